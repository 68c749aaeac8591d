package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import ohmprint.circuit.LoadedNoise.AWeighting;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LevelAndNoiseTest {
    private static final double ROOM_KELVIN = 293.15;

    /** The bands of a full curve end at 19 953 Hz, edge to edge. */
    private static final double COVERED_HZ = 19_952.6 - 20;

    private static LoadedCurve loaded(double sourceOhm, double loadOhm) {
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        List<BandValue> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            values.add(BandValue.complex(
                    f,
                    sourceOhm,
                    0,
                    PlaneCovariance.circular(sourceOhm / 100),
                    0,
                    0,
                    60,
                    new BandBudget(0, 0, 0, 0, 0)));
        }
        SourceCurve source = SourceCurve.of(new ImpedanceCurve(bands, values, false), 20, 20_000);
        return LoadedCurve.of(source, InputImpedance.ofOhms(loadOhm, 0));
    }

    /** Frequency weighting A at the exact third-octave midbands: IEC 61672-1:2013, table 3 (from memory). */
    @ParameterizedTest
    @CsvSource({
        "-20, -70.4",
        "-19, -63.4",
        "-18, -56.7",
        "-17, -50.5",
        "-16, -44.7",
        "-15, -39.4",
        "-14, -34.6",
        "-13, -30.2",
        "-12, -26.2",
        "-11, -22.5",
        "-10, -19.1",
        "-9, -16.1",
        "-8, -13.4",
        "-7, -10.9",
        "-6, -8.6",
        "-5, -6.6",
        "-4, -4.8",
        "-3, -3.2",
        "-2, -1.9",
        "-1, -0.8",
        "0, 0",
        "1, 0.6",
        "2, 1.0",
        "3, 1.2",
        "4, 1.3",
        "5, 1.2",
        "6, 1.0",
        "7, 0.5",
        "8, -0.1",
        "9, -1.1",
        "10, -2.5",
        "11, -4.3",
        "12, -6.6",
        "13, -9.3"
    })
    void weightingAIsThatOfTheStandard(int third, double db) {
        assertThat(AWeighting.db(1000 * Math.pow(10, third / 10.0))).isCloseTo(db, within(0.0501));
    }

    private static double thermalVolt(double ohm, double bandwidthHz, double kelvin) {
        return Math.sqrt(ThermalNoise.density(ohm, kelvin) * bandwidthHz);
    }

    /** √(4kTRB), B = 20 kHz, T = 293.15 K: computed independently, to six and to three decimals. */
    @ParameterizedTest
    @CsvSource({"150, -130.918", "200, -129.669", "600, -124.897", "1000, -122.679"})
    void thermalNoiseOfAResistor(double ohm, double dbu) {
        double volt = thermalVolt(ohm, 20_000, ROOM_KELVIN);
        assertThat(AudioLevel.dbu(volt)).isCloseTo(dbu, within(0.0005));
        if (ohm == 150) {
            assertThat(volt * 1e6).isCloseTo(0.220383, within(5e-7));
        }
    }

    /** 0 dBu = √0.6 V, 1 Pa = 93.979 dB; 1 mV/Pa at 94 dB and 60 dB of gain: 1 V, +2.2 dBu (common practice, no source). */
    @Test
    void levelsOfTheTrade() {
        assertThat(AudioLevel.DBU_VOLT).isCloseTo(0.774597, within(5e-7));
        assertThat(AudioLevel.splDb(1)).isCloseTo(93.979, within(0.0005));
        assertThat(AudioLevel.dbu(0.001 * AudioLevel.pascal(93.979) * 1000)).isCloseTo(2.2, within(0.05));
        assertThat(AudioLevel.volt(AudioLevel.dbu(0.0123))).isCloseTo(0.0123, within(1e-15));
    }

    /** A resistor into a load is one resistor of both in parallel. */
    @Test
    void thermalNoiseAtTheInputIsThatOfSourceAndLoadInParallel() {
        LoadedNoise noise = LoadedNoise.flat(loaded(200, 600), InputNoise.UNKNOWN, ROOM_KELVIN);
        double wanted = AudioLevel.dbu(thermalVolt(150, COVERED_HZ, ROOM_KELVIN));
        assertThat(noise.thermalDbu().value()).isCloseTo(wanted, within(1e-4));
        assertThat(noise.coveredHz()).isCloseTo(COVERED_HZ, within(0.1));
        assertThat(noise.thermalDbu().u95()).isPositive().isLessThan(0.02);
        assertThat(noise.totalDbu().isValue()).isFalse();
        assertThat(noise.equivalentSplDb(0.001).isValue()).isFalse();
    }

    /** White noise of the covered band through weighting A: integral of the formula by scipy's adaptive quadrature. */
    @Test
    void weightedWhiteNoise() {
        LoadedNoise flat = LoadedNoise.flat(loaded(200, 1e9), InputNoise.UNKNOWN, ROOM_KELVIN);
        LoadedNoise weighted = LoadedNoise.weighted(loaded(200, 1e9), InputNoise.UNKNOWN, ROOM_KELVIN);
        assertThat(weighted.thermalDbu().value() - flat.thermalDbu().value()).isCloseTo(-2.0399, within(0.001));
    }

    @Test
    void equivalentNoiseIsTheLevelThatGivesTheSameVoltage() {
        double ein = AudioLevel.dbu(thermalVolt(150, InputNoise.QUOTED_BANDWIDTH_HZ, ROOM_KELVIN)) + 3.0103;
        InputNoise amplifier = InputNoise.ofEquivalent(ein, 150, 0, ROOM_KELVIN);
        // An amplifier 3.01 dB above its resistor makes as much noise as the resistor.
        assertThat(amplifier.voltPerRootHz())
                .isCloseTo(Math.sqrt(ThermalNoise.density(150, ROOM_KELVIN)), within(1e-14));
        LoadedNoise noise = LoadedNoise.flat(loaded(150, 1e9), amplifier, ROOM_KELVIN);
        double volt = Math.sqrt(2) * thermalVolt(150, COVERED_HZ, ROOM_KELVIN);
        assertThat(noise.totalDbu().value()).isCloseTo(AudioLevel.dbu(volt), within(1e-4));
        assertThat(noise.equivalentSplDb(0.002).value()).isCloseTo(AudioLevel.splDb(volt / 0.002), within(1e-4));
        assertThat(noise.penaltyDb().value()).isCloseTo(0, within(1e-5));
    }

    /** Signal falls by 1 + R/R_L, noise to that of R ∥ R_L: 10·lg(1 + R/R_L) remains for thermal noise alone. */
    @Test
    void aLowLoadCostsSignalOverNoise() {
        LoadedNoise thermal = LoadedNoise.flat(loaded(200, 600), new InputNoise(0, 0), ROOM_KELVIN);
        assertThat(thermal.penaltyDb().value()).isCloseTo(10 * Math.log10(1 + 200 / 600.0), within(1e-9));
        LoadedNoise noisy = LoadedNoise.flat(loaded(200, 600), new InputNoise(1e-7, 0), ROOM_KELVIN);
        assertThat(noisy.penaltyDb().value()).isCloseTo(20 * Math.log10(1 + 200 / 600.0), within(0.01));
    }

    @Test
    void currentNoiseGrowsWithTheSource() {
        InputNoise amplifier = new InputNoise(0, 2e-9);
        double low =
                LoadedNoise.flat(loaded(200, 1e9), amplifier, 1e-6).totalDbu().value();
        double high =
                LoadedNoise.flat(loaded(400, 1e9), amplifier, 1e-6).totalDbu().value();
        assertThat(high - low).isCloseTo(20 * Math.log10(2), within(1e-3));
        assertThat(low).isCloseTo(AudioLevel.dbu(2e-9 * 200 * Math.sqrt(COVERED_HZ)), within(1e-4));
    }

    @Test
    void noiseBehindAGainCountsTheLess() {
        InputNoise both = new InputNoise(3e-9, 1e-12).followedBy(20, 100, new InputNoise(4e-8, 0));
        assertThat(both.voltPerRootHz()).isCloseTo(5e-9, within(1e-14));
        assertThat(both.amperePerRootHz()).isEqualTo(1e-12);
        assertThat(new InputNoise(3e-9, 0).followedBy(20, 0, InputNoise.UNKNOWN).isKnown())
                .isFalse();
    }

    @Test
    void noiseBelowThatOfItsOwnResistorIsRefused() {
        assertThatThrownBy(() -> InputNoise.ofEquivalent(-133, 150, 0, ROOM_KELVIN))
                .hasMessageContaining("-133 dBu is below the -130.9 dBu that 150 Ω");
        assertThat(InputNoise.ofEquivalent(-133, 0, 0, ROOM_KELVIN).isKnown()).isTrue();
    }

    @Test
    void uncertaintyOfNoiseAgreesWithAShiftOfAllBandsTogether() {
        LoadedNoise noise = LoadedNoise.flat(loaded(200, 600), new InputNoise(1e-9, 1e-12), ROOM_KELVIN);
        double up = LoadedNoise.flat(loaded(202, 600), new InputNoise(1e-9, 1e-12), ROOM_KELVIN)
                .totalDbu()
                .value();
        // Bands that are independent: a shift of all together counts less by the root of their effective number.
        double together = 1.96 * (up - noise.totalDbu().value());
        assertThat(noise.totalDbu().u95()).isBetween(together / 8, together / 2);
    }

    @Test
    void nothingIsAddedForWhatIsNotMeasured() {
        SourceCurve gaps = SourceCurve.of(SampleMeasurements.ribbonWithGaps().curve(), 20, 20_000);
        LoadedCurve loaded = LoadedCurve.of(gaps, InputImpedance.ofOhms(1500, 5));
        assertThat(LoadedNoise.flat(loaded, InputNoise.UNKNOWN, ROOM_KELVIN).coveredHz())
                .isBetween(8_000.0, 14_000.0);
        SourceCurve bounds = SourceCurve.of(SampleMeasurements.intervalsOnly().curve(), 20, 20_000);
        assertThat(LoadedNoise.flat(LoadedCurve.of(bounds, InputImpedance.ofOhms(1500, 5)), InputNoise.UNKNOWN, 293)
                        .thermalDbu()
                        .isValue())
                .isFalse();
    }
}
