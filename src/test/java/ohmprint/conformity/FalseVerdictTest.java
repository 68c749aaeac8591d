package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import ohmprint.conformity.Specification.AppliesTo;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How often a curve whose truth lies exactly on a limit is called outside, or, with the truth a hair beyond it, within:
 * measurements drawn at random with the uncertainty that is stated.
 */
@Tag("statistics")
class FalseVerdictTest {
    private static final int DRAWS = 4000;
    private static final double SIDE_RATE = 0.025;
    /** Three standard deviations of a share of 2.5 % among the draws: 0.74 %. */
    private static final double CHANCE = 3 * Math.sqrt(SIDE_RATE * (1 - SIDE_RATE) / DRAWS);

    private static final FrequencyBands BANDS = FrequencyBands.within(6, 200, 10_000);
    private static final double U = 1.5;
    private static final double LOW = 240;
    private static final double HIGH = 360;

    /** Truth in every band, and the shape of the errors. */
    private record Bench(double[] truth, double common, double coverage, int freedom) {
        ImpedanceCurve draw(Random random) {
            double shared = random.nextGaussian();
            List<BandValue> values = new ArrayList<>();
            for (int i = 0; i < truth.length; i++) {
                double own = random.nextGaussian();
                double error = U * (common * shared + Math.sqrt(1 - common * common) * own);
                double stated = freedom == 0 ? U : U * Math.sqrt(chiSquare(random) / freedom);
                values.add(Curves.value(BANDS.midband(i), truth[i] + error, stated, coverage));
            }
            return new ImpedanceCurve(BANDS, values, false);
        }

        private double chiSquare(Random random) {
            double sum = 0;
            for (int i = 0; i < freedom; i++) {
                sum += Math.pow(random.nextGaussian(), 2);
            }
            return sum;
        }

        double rate(Specification specification, Conformity counted, long seed) {
            Random random = new Random(seed);
            int count = 0;
            for (int d = 0; d < DRAWS; d++) {
                Verdict verdict = Decision.of(specification, Curves.ribbon(draw(random)));
                count += verdict.conformity() == counted ? 1 : 0;
            }
            return count / (double) DRAWS;
        }
    }

    private static double[] all(double ohm) {
        double[] truth = new double[BANDS.size()];
        java.util.Arrays.fill(truth, ohm);
        return truth;
    }

    private static Specification mask() {
        return Curves.mask(new MaskRange(200, 10_000, LOW, HIGH));
    }

    private static Specification everything() {
        List<ReferenceCurve.Point> points = List.of(
                new ReferenceCurve.Point(200, 300, LOW, HIGH, 0), new ReferenceCurve.Point(10_000, 300, LOW, HIGH, 0));
        return new Specification(
                "all",
                null,
                AppliesTo.ALL,
                new RatedImpedance(300, 20, 1000),
                List.of(new MaskRange(200, 10_000, LOW, HIGH)),
                null,
                new ReferenceCurve(points, 201, 9900, null));
    }

    @ParameterizedTest(name = "every band on {0} Ω, errors in common {1}, {2} degrees of freedom")
    @CsvSource({
        "240, 0,   0, 1.959964",
        "360, 0,   0, 1.959964",
        "240, 0.7, 0, 1.959964",
        "240, 0.95, 0, 1.959964",
        "360, 1,   0, 1.959964",
        "240, 0,  10, 2.228139"
    })
    void aCurveOnItsLimitIsRarelyCalledOutside(double ohm, double common, int freedom, double coverage) {
        Bench bench = new Bench(all(ohm), common, coverage, freedom);
        assertThat(bench.rate(mask(), Conformity.OUTSIDE, 1)).isLessThan(SIDE_RATE + CHANCE);
        assertThat(bench.rate(everything(), Conformity.OUTSIDE, 2)).isLessThan(SIDE_RATE + CHANCE);
    }

    /** The bound is reached and not merely kept: independent errors at the limit in all bands. */
    @ParameterizedTest
    @CsvSource({"240", "360"})
    void theRateIsUsed(double ohm) {
        assertThat(new Bench(all(ohm), 0, CoverageFactor.NORMAL, 0).rate(mask(), Conformity.OUTSIDE, 3))
                .isBetween(SIDE_RATE - 0.01, SIDE_RATE + CHANCE);
    }

    @ParameterizedTest(name = "one band on {0} Ω, errors in common {1}")
    @CsvSource({"240, 0", "240, 0.95", "360, 0.7", "360, 1"})
    void aCurveWithOneBandOnItsLimitIsRarelyCalledWithin(double ohm, double common) {
        double[] truth = all(300);
        truth[BANDS.size() / 2] = ohm;
        double rate = new Bench(truth, common, CoverageFactor.NORMAL, 0).rate(mask(), Conformity.WITHIN, 4);
        assertThat(rate).isBetween(SIDE_RATE - 3 * CHANCE / 2, SIDE_RATE + CHANCE);
    }

    @ParameterizedTest(name = "every band on {0} Ω, errors in common {1}")
    @CsvSource({"240, 0.95", "240, 1", "360, 1"})
    void aCurveOnItsLimitIsRarelyCalledWithin(double ohm, double common) {
        double rate = new Bench(all(ohm), common, CoverageFactor.NORMAL, 0).rate(mask(), Conformity.WITHIN, 5);
        assertThat(rate).isLessThan(SIDE_RATE + CHANCE);
    }

    @ParameterizedTest(name = "one check on {0} Ω")
    @CsvSource({"240", "360"})
    void oneCheckUsesTheWholeRate(double ohm) {
        Bench bench = new Bench(all(ohm), 1, CoverageFactor.NORMAL, 0);
        Specification rated = Curves.rated(300, 20);
        assertThat(bench.rate(rated, Conformity.OUTSIDE, 6)).isBetween(SIDE_RATE - CHANCE, SIDE_RATE + CHANCE);
        assertThat(bench.rate(rated, Conformity.WITHIN, 7)).isBetween(SIDE_RATE - CHANCE, SIDE_RATE + CHANCE);
    }

    /** A hill whose top lies on the end of the window: called within or outside rarely. */
    @ParameterizedTest(name = "window {0} to {1} Hz")
    @CsvSource({"500, 917.275935389779", "1090.184492, 2000"})
    void aResonanceOnTheEndOfItsWindowIsRarelyDecided(double from, double to) {
        double[] truth = new double[BANDS.size()];
        for (int i = 0; i < truth.length; i++) {
            truth[i] = 300 - 12 * Math.pow(Math.log(BANDS.midband(i) / (from < 600 ? to : from)), 2);
        }
        Specification window = Curves.resonance(new ResonanceWindow(from, to, 300, 4000));
        Bench bench = new Bench(truth, 0.3, CoverageFactor.NORMAL, 0);
        assertThat(bench.rate(window, Conformity.OUTSIDE, 8)).isLessThan(SIDE_RATE + CHANCE);
        assertThat(bench.rate(window, Conformity.WITHIN, 9)).isLessThan(SIDE_RATE + CHANCE);
    }
}
