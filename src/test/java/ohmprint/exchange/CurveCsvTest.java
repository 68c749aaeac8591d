package ohmprint.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CurveCsvTest {
    private static final String THREE_BANDS = """
            frequency_hz,magnitude_ohm,phase_deg,resistance_ohm,reactance_ohm,magnitude_u95_ohm,phase_u95_deg,snr_db,status,magnitude_low_ohm,magnitude_high_ohm
            1000,5,53.1301024,3,4,0.125,45,40.5,measured,,
            1258.92541,,,,,,,31,interval,150.5,204000
            1584.89319,,,,,,,,rejected,,
            """;

    @Test
    void everyColumnHoldsWhatItsNameSays() {
        // the triangle 3, 4, 5: phase atan(4/3) = 53.1301023542°
        assertThat(CurveCsv.write(threeBands())).isEqualTo(THREE_BANDS);
    }

    @ParameterizedTest
    @ValueSource(strings = {"de-DE", "ar-EG-u-nu-arab", "hi-IN-u-nu-deva", "tr-TR"})
    void theLocaleChangesNothing(String tag) throws Exception {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag(tag));

            assertThat(CurveCsv.write(threeBands())).isEqualTo(THREE_BANDS);
            assertThat(CurveCsv.write(CurveCsv.read(THREE_BANDS, "curve.csv", false)))
                    .isEqualTo(THREE_BANDS);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void aTableReadBackIsTheSameCurveToNineDigits() throws Exception {
        ImpedanceCurve curve = SampleMeasurements.ribbonWithGaps().curve();
        ImpedanceCurve back = CurveCsv.read(CurveCsv.write(curve), "curve.csv", true);

        assertThat(back.bands()).isEqualTo(curve.bands());
        assertThat(back.parallelWithInput()).isTrue();
        for (int i = 0; i < curve.values().size(); i++) {
            BandValue expected = curve.values().get(i);
            BandValue actual = back.values().get(i);
            assertThat(actual.status()).isEqualTo(expected.status());
            if (expected.isMeasured()) {
                assertThat(actual.resistanceOhm() / expected.resistanceOhm()).isCloseTo(1, within(5e-9));
                assertThat(actual.reactanceOhm() / expected.reactanceOhm()).isCloseTo(1, within(5e-9));
                assertThat(actual.magnitudeOhm() / expected.magnitudeOhm()).isCloseTo(1, within(5e-9));
                assertThat(actual.phaseRad() / expected.phaseRad()).isCloseTo(1, within(5e-9));
                assertThat(actual.magnitudeU95Ohm() / expected.magnitudeU95Ohm())
                        .isCloseTo(1, within(5e-9));
                assertThat(actual.phaseU95Rad() / expected.phaseU95Rad()).isCloseTo(1, within(5e-9));
            } else {
                assertThat(actual.magnitudeOhm()).isNaN();
            }
        }
        assertThat(CurveCsv.write(back)).isEqualTo(CurveCsv.write(curve));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 3, 6, 12, 24})
    void theGridIsFoundFromTheFrequencies(int fraction) throws Exception {
        ImpedanceCurve curve = SampleMeasurements.movingCoilCurve(fraction, 30, 18000);

        assertThat(CurveCsv.read(CurveCsv.write(curve), "curve.csv", false).bands())
                .isEqualTo(curve.bands());
    }

    @Test
    void anUnboundedIntervalLeavesItsUpperColumnEmpty() throws Exception {
        String text = CurveCsv.write(SampleMeasurements.intervalsOnly().curve());

        assertThat(text)
                .contains(",interval,")
                .containsPattern("interval,[0-9.]+,\n")
                .doesNotContain("nfinity");
        assertThat(CurveCsv.read(text, "curve.csv", false).count(BandStatus.INTERVAL))
                .isEqualTo(25);
    }

    @Test
    void magnitudesWithoutSignLeavePhaseAndReactanceEmpty() {
        String row = CurveCsv.write(SampleMeasurements.magnitudesOnly().curve())
                .lines()
                .skip(1)
                .findFirst()
                .orElseThrow();

        assertThat(row.split(",", -1)[2]).isEmpty();
        assertThat(row.split(",", -1)[3]).isNotEmpty();
        assertThat(row.split(",", -1)[4]).isEmpty();
        assertThat(row).doesNotContain("NaN");
    }

    @Test
    void faultsAreNamedWithFileLineAndNextStep() {
        assertFault("frequency,magnitude\n", "curve.csv, line 1: the header is not");
        assertFault(CurveCsv.HEADER + "\n", "give at least one band");
        assertFault(row("1000,5,0,5,0,1,1,40,measured,"), "line 2: 10 columns instead of 11");
        assertFault(row("1000,5,0,5,0,1,1,40,guessed,,"), "line 2, status: \"guessed\" is not known");
        assertFault(row("1000,5 Ohm,0,5,0,1,1,40,measured,,"), "magnitude_ohm: \"5 Ohm\" is no number");
        assertFault(row("1000,NaN,0,5,0,1,1,40,measured,,"), "magnitude_ohm: \"NaN\" is no number");
        assertFault(row("1000,٥,0,5,0,1,1,40,measured,,"), "is no number");
        assertFault(row("-5,5,0,5,0,1,1,40,measured,,"), "frequency_hz: \"-5\" is no frequency");
        assertFault(row("1000,,0,5,0,1,1,40,measured,,"), "magnitude_ohm: empty");
        assertFault(row("1000,5,0,5,0,1,1,40,measured,4,6"), "magnitude_low_ohm: holds a value");
        assertFault(row("1000,5,,,,,,40,rejected,,"), "magnitude_ohm: holds a value");
        assertFault(row("1000,,,,,,,40,interval,,6"), "magnitude_low_ohm: empty");
        assertFault(row("1000,5,0,5,0,1,1,40,measured,,\n1100,5,0,5,0,1,1,40,measured,,"), "midbands");
    }

    private static String row(String row) {
        return CurveCsv.HEADER + "\n" + row + "\n";
    }

    private static void assertFault(String text, String expected) {
        assertThatThrownBy(() -> CurveCsv.read(text, "curve.csv", false))
                .isInstanceOf(ExchangeException.class)
                .hasMessageContaining(expected);
    }

    private static ImpedanceCurve threeBands() {
        FrequencyBands bands = FrequencyBands.within(3, 1000, 1600);
        return new ImpedanceCurve(
                bands,
                List.of(
                        BandValue.complex(
                                bands.midband(0),
                                3,
                                4,
                                PlaneCovariance.circular(0.0625),
                                0.125,
                                Math.PI / 4,
                                40.5,
                                new BandBudget(0.0625, 0, 0, 0, 0)),
                        BandValue.interval(bands.midband(1), 150.5, 204000, 31),
                        BandValue.rejected(bands.midband(2), Double.NaN)),
                false);
    }
}
