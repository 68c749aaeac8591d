package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class CurveCovarianceTest {
    private static final double RELATIVE = 1e-12;
    private static final FrequencyBands TWO = FrequencyBands.within(12, 960, 1040);

    /** JCGM 100:2008, table H.2: V in volts, I in amperes, φ in radians. */
    private static final double[][] READINGS = {
        {5.007, 19.663e-3, 1.0456},
        {4.994, 19.639e-3, 1.0438},
        {5.005, 19.640e-3, 1.0468},
        {4.990, 19.685e-3, 1.0428},
        {4.999, 19.678e-3, 1.0433}
    };

    /**
     * The covariance of means of n simultaneous readings is the sum over the readings of their deviations, each over
     * √(n(n−1)): five causes that R and X share. JCGM 100:2008, table H.4 gives what has to come out.
     */
    @Test
    void theExampleOfTheGuideComesOutOfItsReadingsAsCauses() {
        int n = READINGS.length;
        double[] mean = new double[3];
        for (double[] reading : READINGS) {
            for (int q = 0; q < 3; q++) {
                mean[q] += reading[q] / n;
            }
        }
        double r = mean[0] / mean[1] * Math.cos(mean[2]);
        double x = mean[0] / mean[1] * Math.sin(mean[2]);
        List<SharedCause> causes = Arrays.stream(READINGS)
                .map(reading -> {
                    double v = (reading[0] / mean[0] - 1) / Math.sqrt(n * (n - 1));
                    double i = (reading[1] / mean[1] - 1) / Math.sqrt(n * (n - 1));
                    double phase = (reading[2] - mean[2]) / Math.sqrt(n * (n - 1));
                    double dR = r * (v - i) - x * phase;
                    double dX = x * (v - i) + r * phase;
                    return SharedCause.ofOhms(
                            "reading", CauseOrigin.NOISE, new double[] {dR, dR}, new double[] {dX, dX});
                })
                .toList();
        CurveCovariance covariance = CurveCovariance.of(causes, List.of(PlaneCovariance.ZERO, PlaneCovariance.ZERO));
        PlaneCovariance own = covariance.of(0);
        ImpedanceCurve curve = curve(r, x, covariance);

        assertThat(Math.sqrt(own.varR())).isCloseTo(0.071, within(5e-4));
        // printed as 0.295; carried without intermediate rounding the readings give 0.2956
        assertThat(Math.sqrt(own.varX())).isCloseTo(0.295, within(1e-3));
        assertThat(own.covRX() / Math.sqrt(own.varR() * own.varX())).isCloseTo(-0.588, within(5e-4));
        assertThat(Math.sqrt(curve.magnitudeCovariance(0, 0))).isCloseTo(0.236, within(5e-4));
        // two bands that share all their causes: wholly correlated
        assertThat(curve.magnitudeCovariance(0, 1)).isCloseTo(curve.magnitudeCovariance(0, 0), withinPercentage(1e-9));
        assertThat(Math.sqrt(curve.logMagnitudeCovariance(0, 1))).isCloseTo(0.236 / 254.260, withinPercentage(0.25));
    }

    /** Draws the causes and the noise and compares the scatter of |Z| in two bands with what is stated. */
    @Test
    void twoBandsScatterTogetherAsStated() {
        SharedCause level =
                SharedCause.ofOhms("level", CauseOrigin.DRIFT, new double[] {1, 0.6}, new double[] {0.5, 0.4});
        SharedCause load =
                SharedCause.ofOhms("load", CauseOrigin.LOADS, new double[] {-0.3, 0.8}, new double[] {0.2, 0.1});
        CurveCovariance covariance = CurveCovariance.of(
                List.of(level, load), List.of(PlaneCovariance.circular(0.5), PlaneCovariance.circular(0.7)));
        ImpedanceCurve curve = curve(150, 200, covariance);
        Random random = new Random(11);
        int draws = 40_000;
        double[] sums = new double[3];
        for (int d = 0; d < draws; d++) {
            double a = random.nextGaussian();
            double b = random.nextGaussian();
            double[] off = new double[2];
            for (int k = 0; k < 2; k++) {
                double n = k == 0 ? 0.5 : 0.7;
                double r = 150 + a * level.resistanceOhm(k) + b * load.resistanceOhm(k) + n * random.nextGaussian();
                double x = 200 + a * level.reactanceOhm(k) + b * load.reactanceOhm(k) + n * random.nextGaussian();
                off[k] = Math.hypot(r, x) - 250;
            }
            sums[0] += off[0] * off[0] / draws;
            sums[1] += off[1] * off[1] / draws;
            sums[2] += off[0] * off[1] / draws;
        }

        // three standard deviations of a mean square over these draws are 2 %; the product varies a little more
        assertThat(curve.magnitudeCovariance(0, 0)).isCloseTo(sums[0], withinPercentage(2.2));
        assertThat(curve.magnitudeCovariance(1, 1)).isCloseTo(sums[1], withinPercentage(2.2));
        assertThat(curve.magnitudeCovariance(0, 1)).isCloseTo(sums[2], within(0.02));
        assertThat(Math.abs(curve.magnitudeCovariance(0, 1))).isGreaterThan(0.1);
    }

    @Test
    void aBandWithItselfIsTheSumOfCausesAndNoise() {
        SharedCause one = SharedCause.ofOhms("level", CauseOrigin.DRIFT, new double[] {2, 3}, new double[] {-1, 4});
        PlaneCovariance noise = new PlaneCovariance(0.3, 0.5, 0.1);
        CurveCovariance covariance = CurveCovariance.of(List.of(one), List.of(noise, noise));

        assertThat(covariance.of(0)).isEqualTo(PlaneCovariance.ofCause(2, -1).plus(noise));
        assertThat(covariance.between(0, 1)).isEqualTo(new CrossCovariance(6, 8, -3, -4));
        assertThat(covariance.between(0, 1).of(0.6, 0.8, 1, 0))
                .isCloseTo(0.6 * 6 - 0.8 * 3, withinPercentage(RELATIVE));
        assertThat(covariance.only(new int[] {1}).of(0))
                .isEqualTo(PlaneCovariance.ofCause(3, 4).plus(noise));
    }

    @Test
    void aBandWithoutValueHasNoCovariance() {
        double none = Double.NaN;
        SharedCause one =
                SharedCause.ofOhms("level", CauseOrigin.DRIFT, new double[] {2, none}, new double[] {-1, none});
        CurveCovariance covariance = CurveCovariance.of(List.of(one), Arrays.asList(PlaneCovariance.circular(1), null));

        assertThat(covariance.of(1)).isNull();
        assertThat(covariance.between(0, 1).rr()).isNaN();
        assertThat(covariance.of(0)).isNotNull();
    }

    @Test
    void partsThatDoNotBelongTogetherAreRefused() {
        double[] two = {1, 1};
        SharedCause cause = SharedCause.ofOhms("level", CauseOrigin.DRIFT, two, two);

        assertThatThrownBy(() -> SharedCause.ofOhms("level", CauseOrigin.DRIFT, two, new double[1]))
                .hasMessageContaining("'level' moves R of 2 bands and X of 1");
        assertThatThrownBy(() -> CurveCovariance.of(List.of(cause), List.of(PlaneCovariance.ZERO)))
                .hasMessageContaining("2 bands, the noise for 1");
        assertThatThrownBy(() -> new ImpedanceCurve(
                        FrequencyBands.within(12, 960, 1100),
                        curve(1, 1, null).values(),
                        false,
                        CurveCovariance.of(List.of(), List.of())))
                .isInstanceOf(IllegalArgumentException.class);
    }

    private static ImpedanceCurve curve(double r, double x, CurveCovariance covariance) {
        BandBudget budget = new BandBudget(0, 0, 0, 0, 0);
        List<BandValue> values = Arrays.stream(TWO.midbands())
                .mapToObj(f -> BandValue.complex(f, r, x, PlaneCovariance.ZERO, 0, 0, 60, budget))
                .toList();
        return new ImpedanceCurve(TWO, values, false, covariance);
    }
}
