package ohmprint.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import ohmprint.exchange.Touchstone.Point;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;

/** Against the example pair of the Touchstone File Format Specification, version 2.0, IBIS Open Forum. */
class TouchstoneTest {
    private static final String VERSION_ONE = """
            !1-port Z-parameter file, multiple frequency points
            # MHz Z MA R 75
            !freq magZ11 angZ11
            100 0.99 -4
            200 0.80 -22
            300 0.707 -45
            400 0.40 -62
            500 0.01 -89
            """;

    private static final String VERSION_TWO = """
            ! 1-port Z-parameter file
            [Version] 2.0
            # MHz Z MA
            [Number of Ports] 1
            [Number of Frequencies] 5
            [Reference] 20.0
            [Network Data]
            !freq magZ11 angZ11
            100 74.25 -4
            200 60 -22
            300 53.025 -45
            400 30 -62
            500 0.75 -89
            [End]
            """;

    private static final double[] OHMS = {74.25, 60, 53.025, 30, 0.75};
    private static final double[] DEGREES = {-4, -22, -45, -62, -89};

    @Test
    void thePublishedVersionOneFileIsNormalisedToItsReference() throws Exception {
        assertPublished(Touchstone.read(VERSION_ONE, "one.s1p"));
    }

    @Test
    void thePublishedVersionTwoFileHoldsOhmsWhateverItsReference() throws Exception {
        assertPublished(Touchstone.read(VERSION_TWO, "two.s1p"));
    }

    @Test
    void formatsUnitsAndParametersAgreeOnTheSameImpedance() throws Exception {
        // 30 + j40 Ω at 1 kHz: modulus 50 Ω, 53.130102°, 1/Z = 0.012 − j0.016 S, s = (Z − 50)/(Z + 50) = j0.5 in 50 Ω
        assertThirtyForty("# Hz Z RI R 1\n1000 30 40\n");
        assertThirtyForty("# kHz Z MA R 50\n1 1 53.13010235\n");
        assertThirtyForty("# MHz Z DB R 5\n0.001 20 53.13010235\n");
        assertThirtyForty("# R 50 RI Hz Y\n1000 0.6 -0.8\n");
        assertThirtyForty("#\n1e-6 0.5 90\n");
        assertThirtyForty("# hz s ri r 50 ! remark\n1000 0 0.5\n");
        assertThirtyForty("[Version] 2.0\n# Hz Y RI\n[Number of Ports] 1\n[Network Data]\n1000 0.012 -0.016\n[End]\n");
        assertThirtyForty("[Version] 2.0\n# Hz S RI R 75\n[Reference]\n50\n[Network Data]\n1000 0 0.5\n[End]\nrest\n");
        assertThirtyForty("[Version] 2.1\n# Hz Z RI\n[Begin Information]\nfree words\n[End Information]\n1000 30 40\n");
    }

    @Test
    void aWrittenFileIsReadAsTheSameImpedanceByBothVersions() throws Exception {
        Measurement m = SampleMeasurements.ribbonWithGaps();
        String text = Touchstone.write(m);
        List<BandValue> expected =
                m.curve().values().stream().filter(BandValue::isMeasured).toList();

        for (String asVersion : List.of(text, "[Version] 2.0\n[Number of Ports] 1\n" + text)) {
            List<Point> points = Touchstone.read(asVersion, "curve.s1p");
            assertThat(points).hasSameSizeAs(expected);
            for (int i = 0; i < points.size(); i++) {
                BandValue v = expected.get(i);
                assertThat(points.get(i).frequencyHz() / v.frequencyHz()).isCloseTo(1, within(5e-9));
                assertThat(points.get(i).resistanceOhm() / v.resistanceOhm()).isCloseTo(1, within(5e-9));
                assertThat(points.get(i).reactanceOhm() / v.reactanceOhm()).isCloseTo(1, within(5e-9));
            }
        }
    }

    @Test
    void theHeadTellsWhatWhenAndInWhichUnit() {
        List<String> lines = Touchstone.write(SampleMeasurements.labelled("Größe 7 Ω\n# GHz"))
                .lines()
                .toList();

        assertThat(lines.subList(0, 4))
                .containsExactly(
                        "! Gro?e 7 ? # GHz",
                        "! 2026-03-04T05:06:07Z",
                        "! source impedance, resistance and reactance in ohms",
                        "# Hz Z RI R 1");
        assertThat(lines.get(4)).matches("[0-9.]+ [0-9.-]+ [0-9.-]+");
    }

    @Test
    void aCurveWithoutReactanceCannotBeHeld() {
        Measurement m = SampleMeasurements.magnitudesOnly();

        assertThat(Touchstone.canHold(m.curve())).isFalse();
        assertThat(Touchstone.canHold(SampleMeasurements.movingCoil().curve())).isTrue();
        assertThatThrownBy(() -> Touchstone.write(m))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("write the table instead");
    }

    @Test
    void faultsAreNamedWithFileLineAndNextStep() {
        assertFault("# Hz Z RI R 1\n", "no data line");
        assertFault("# Hz Z RI R 1\n1000 1 2 3 4\n", "a.s1p, line 2: 5 numbers instead of 3");
        assertFault("# Hz Z RI R 1\n1000 1 x\n", "\"x\" is no number");
        assertFault("# Hz Z RI R 1\n1000 1 2\n900 1 2\n", "line 3: the frequency 900 does not ascend");
        assertFault("# Hz H RI R 1\n1000 1 2\n", "the option \"H\" is not read");
        assertFault("# Hz Z RI R\n1000 1 2\n", "R is not followed by a positive number");
        assertFault("[Version] 3.0\n", "version 3.0 is not read");
        assertFault("[Version] 2.0\n[Number of Ports] 2\n", "2 ports");
        assertFault("[Version] 2.0\n[Number of Frequencies] 2\n# Hz Z RI\n1 1 1\n", "may be cut short");
        assertFault("[Mixed-Mode Order] D2,3\n", "[mixed-mode order] is not read");
    }

    private static void assertPublished(List<Point> points) {
        assertThat(points).hasSize(5);
        for (int i = 0; i < 5; i++) {
            Point p = points.get(i);
            assertThat(p.frequencyHz()).isCloseTo((i + 1) * 1e8, within(1e-6));
            assertThat(Math.hypot(p.resistanceOhm(), p.reactanceOhm())).isCloseTo(OHMS[i], within(1e-9));
            assertThat(Math.toDegrees(Math.atan2(p.reactanceOhm(), p.resistanceOhm())))
                    .isCloseTo(DEGREES[i], within(1e-9));
        }
    }

    private static void assertThirtyForty(String text) throws ExchangeException {
        List<Point> points = Touchstone.read(text, "a.s1p");

        assertThat(points).as(text).hasSize(1);
        assertThat(points.get(0).frequencyHz()).as(text).isCloseTo(1000, within(1e-9));
        assertThat(points.get(0).resistanceOhm()).as(text).isCloseTo(30, within(1e-7));
        assertThat(points.get(0).reactanceOhm()).as(text).isCloseTo(40, within(1e-7));
    }

    private static void assertFault(String text, String expected) {
        assertThatThrownBy(() -> Touchstone.read(text, "a.s1p"))
                .isInstanceOf(ExchangeException.class)
                .hasMessageContaining(expected);
    }
}
