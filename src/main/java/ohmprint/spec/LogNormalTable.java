package ohmprint.spec;

import org.apache.commons.math3.special.Erf;

/**
 * {@code ln Φ(x)}, Φ being the standard normal distribution function, fast enough for sums over many nodes: cubic Hermite
 * interpolation between exact values 1/32 apart, off by less than 1e-8 from −8 to 8. Beyond 8 it is 0 (−6e-16 in truth);
 * below −8 it is that of −8, −35, which counts as impossible in the sums it is for.
 */
final class LogNormalTable {
    private static final int PER_UNIT = 32;
    private static final int REACH = 8;
    private static final int STEPS = 2 * REACH * PER_UNIT;
    private static final double[] VALUE = new double[STEPS + 1];
    private static final double[] SLOPE = new double[STEPS + 1];

    static {
        for (int i = 0; i <= STEPS; i++) {
            double x = i / (double) PER_UNIT - REACH;
            double phi = Erf.erfc(-x / Math.sqrt(2)) / 2;
            VALUE[i] = Math.log(phi);
            SLOPE[i] = Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI) / phi / PER_UNIT;
        }
    }

    private LogNormalTable() {}

    /** {@code ln Φ(x)}. */
    static double at(double x) {
        if (x >= REACH) {
            return 0;
        }
        double place = (x + REACH) * PER_UNIT;
        if (!(place > 0)) {
            return VALUE[0];
        }
        int i = (int) place;
        double t = place - i;
        double rise = VALUE[i + 1] - VALUE[i];
        double bend = t * (1 - t) * ((SLOPE[i] - rise) * (1 - t) - (SLOPE[i + 1] - rise) * t);
        return VALUE[i] + t * rise + bend;
    }
}
