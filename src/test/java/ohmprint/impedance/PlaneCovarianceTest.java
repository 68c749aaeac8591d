package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** First-order propagation against JCGM 100:2008, example H.2, and JCGM 102:2011, 9.2. */
class PlaneCovarianceTest {
    /** JCGM 100:2008, table H.2: V in volts, I in amperes, φ in radians. */
    private static final double[][] READINGS = {
        {5.007, 19.663e-3, 1.0456},
        {4.994, 19.639e-3, 1.0438},
        {5.005, 19.640e-3, 1.0468},
        {4.990, 19.685e-3, 1.0428},
        {4.999, 19.678e-3, 1.0433}
    };

    @Test
    void simultaneousReadingsOfVoltageCurrentAndPhaseGiveResistanceReactanceAndModulus() {
        double[] mean = means();
        double[][] s = covarianceOfMeans(mean);
        double r = mean[0] / mean[1] * Math.cos(mean[2]);
        double x = mean[0] / mean[1] * Math.sin(mean[2]);
        double[] dR = {r / mean[0], -r / mean[1], -x};
        double[] dX = {x / mean[0], -x / mean[1], r};
        PlaneCovariance c = new PlaneCovariance(form(dR, s, dR), form(dX, s, dX), form(dR, s, dX));

        // JCGM 100:2008, table H.4
        assertThat(r).isCloseTo(127.732, within(5e-4));
        assertThat(x).isCloseTo(219.847, within(5e-4));
        assertThat(Math.hypot(r, x)).isCloseTo(254.260, within(5e-4));
        assertThat(Math.sqrt(c.varR())).isCloseTo(0.071, within(5e-4));
        // printed as 0.295; carried without intermediate rounding the readings give 0.2956, one unit of the last digit
        assertThat(Math.sqrt(c.varX())).isCloseTo(0.295, within(1e-3));
        assertThat(c.modulusUncertainty(r, x)).isCloseTo(0.236, within(5e-4));
        assertThat(c.covRX() / Math.sqrt(c.varR() * c.varX())).isCloseTo(-0.588, within(5e-4));

        // correlations of R and X with |Z|: cov(R, |Z|) = (R·var R + X·cov)/|Z|
        double uz = c.modulusUncertainty(r, x);
        double z = Math.hypot(r, x);
        double withR = (r * c.varR() + x * c.covRX()) / z / Math.sqrt(c.varR()) / uz;
        double withX = (r * c.covRX() + x * c.varX()) / z / Math.sqrt(c.varX()) / uz;
        assertThat(withR).isCloseTo(-0.485, within(5e-4));
        assertThat(withX).isCloseTo(0.993, within(5e-4));
    }

    @Test
    void phaseUncertaintyIsThatOfTheReadings() {
        // JCGM 100:2008, table H.2: u(φ) = 0.00075 rad; φ was read directly, so going to (R, X) and back must return it
        double[] mean = means();
        double[][] s = covarianceOfMeans(mean);
        double r = mean[0] / mean[1] * Math.cos(mean[2]);
        double x = mean[0] / mean[1] * Math.sin(mean[2]);
        double[] dR = {r / mean[0], -r / mean[1], -x};
        double[] dX = {x / mean[0], -x / mean[1], r};
        PlaneCovariance c = new PlaneCovariance(form(dR, s, dR), form(dX, s, dX), form(dR, s, dX));

        assertThat(c.phaseUncertainty(r, x)).isCloseTo(0.00075, within(5e-6));
        assertThat(c.phaseUncertainty(r, x)).isCloseTo(Math.sqrt(s[2][2]), within(1e-12));
    }

    @Test
    void aPointNearTheOriginGivesTheLinearValuesOfSupplementTwo() {
        // JCGM 102:2011, 9.2, re = 0.001, im = 0, u = 0.01 each, r = 0, linear propagation: 0.010 and 10.0 rad
        PlaneCovariance c = PlaneCovariance.circular(0.01);

        assertThat(c.modulusUncertainty(0.001, 0)).isCloseTo(0.010, within(1e-12));
        assertThat(c.phaseUncertainty(0.001, 0)).isCloseTo(10.0, within(1e-9));
    }

    @Test
    void theOriginHasNoPhase() {
        assertThat(PlaneCovariance.circular(0.01).phaseUncertainty(0, 0)).isInfinite();
        assertThat(PlaneCovariance.circular(0.01).modulusUncertainty(0, 0)).isEqualTo(0.01);
    }

    @Test
    void aCauseThatScalesTheImpedanceLeavesThePhaseAlone() {
        PlaneCovariance gain = PlaneCovariance.ofCause(0.01 * 150, 0.01 * 60);

        assertThat(gain.modulusUncertainty(150, 60)).isCloseTo(0.01 * Math.hypot(150, 60), within(1e-12));
        assertThat(gain.phaseUncertainty(150, 60)).isCloseTo(0, within(1e-9));
    }

    @Test
    void independentContributionsAddTheirVariances() {
        PlaneCovariance sum = PlaneCovariance.circular(3).plus(PlaneCovariance.ofCause(4, -2));

        assertThat(sum).isEqualTo(new PlaneCovariance(25, 13, -8));
        assertThat(sum.times(4)).isEqualTo(new PlaneCovariance(100, 52, -32));
    }

    private static double[] means() {
        double[] mean = new double[3];
        for (double[] row : READINGS) {
            for (int i = 0; i < 3; i++) {
                mean[i] += row[i] / READINGS.length;
            }
        }
        return mean;
    }

    private static double[][] covarianceOfMeans(double[] mean) {
        int n = READINGS.length;
        double[][] s = new double[3][3];
        for (double[] row : READINGS) {
            for (int i = 0; i < 3; i++) {
                for (int j = 0; j < 3; j++) {
                    s[i][j] += (row[i] - mean[i]) * (row[j] - mean[j]) / n / (n - 1);
                }
            }
        }
        return s;
    }

    private static double form(double[] a, double[][] s, double[] b) {
        double sum = 0;
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) {
                sum += a[i] * s[i][j] * b[j];
            }
        }
        return sum;
    }
}
