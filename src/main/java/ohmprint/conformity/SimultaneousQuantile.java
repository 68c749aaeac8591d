package ohmprint.conformity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.conformity.CommonErrors.ErrorDecomposition;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.random.HaltonSequenceGenerator;
import org.apache.commons.math3.special.Erf;

/**
 * The probability that any of many standard normal errors with shared causes exceeds its threshold, and the threshold that
 * keeps it at a given rate.
 *
 * <p>Given the shared causes x the rest is independent, so {@code P = 1 − E_x Π_i Φ((t_i − common_i·x)/own_i)} (for one cause
 * Dunnett and Sobel 1955, Biometrika 42, 258). The causes are turned onto their principal axes, those that move nothing are
 * left out, and the mean over x is taken at fixed nodes: a Hammersley set, the first axis in equal steps of probability, the
 * others by scrambled Halton sequences. The three greatest axes are sampled half as wide again and the nodes weighted for it,
 * because the exceedances lie in the tails. The same question has the same answer always; against integrals of another program
 * the threshold is off by less than 0.002, which is 1 % of a rate of 2.5 %. Errors of the same band share all, so the lowest threshold of a band counts for it. For errors of which
 * nothing is known, and as an upper bound for all, probabilities are added (Bonferroni).
 */
final class SimultaneousQuantile {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    private static final int NODES = 2048;
    private static final int MOST_AXES = 12;

    /** How much wider the greatest axes are sampled, and how many of them. */
    private static final double SPREAD = 1.5;

    private static final int SPREAD_AXES = 3;

    /** Greatest part of a variance that an axis which is left out may hold. */
    private static final double NEGLIGIBLE = 1e-4;

    /** Least own part: one that is smaller makes steps that the nodes do not resolve. */
    private static final double LEAST_OWN = 0.01;

    private static final double EXACT = 2e-4;
    private static final int MOST_STEPS = 60;

    /** Group of each error, −1 where nothing is known. */
    private final int[] group;

    private final double[] own;
    /** Shared part over own part of each group at each node. */
    private final double[][] shift;

    private final double[] weight;

    private SimultaneousQuantile(int[] group, double[] own, double[][] shift, double[] weight) {
        this.group = group;
        this.own = own;
        this.shift = shift;
        this.weight = weight;
    }

    /** The joint distribution of some errors, whose known ones have the same shared causes. */
    static SimultaneousQuantile of(List<ErrorDecomposition> errors) {
        int[] group = new int[errors.size()];
        List<ErrorDecomposition> known = new ArrayList<>();
        for (int i = 0; i < group.length; i++) {
            group[i] = errors.get(i).isKnown() ? place(known, errors.get(i)) : -1;
        }
        double[][] axes = principal(known);
        int count = axes.length == 0 ? 0 : axes[0].length;
        double[][] x = nodes(count);
        double[] own = new double[known.size()];
        double[][] shift = new double[own.length][x.length];
        for (int g = 0; g < own.length; g++) {
            double left = 1;
            for (double a : axes[g]) {
                left -= a * a;
            }
            own[g] = Math.max(LEAST_OWN, Math.sqrt(Math.max(0, left)));
            for (int n = 0; n < x.length; n++) {
                double sum = 0;
                for (int k = 0; k < count; k++) {
                    sum += axes[g][k] * x[n][k];
                }
                shift[g][n] = sum / own[g];
            }
        }
        return new SimultaneousQuantile(group, own, shift, weights(x));
    }

    private static int place(List<ErrorDecomposition> known, ErrorDecomposition error) {
        for (int g = 0; g < known.size() && error.ownBand() >= 0; g++) {
            if (known.get(g).ownBand() == error.ownBand()) {
                return g;
            }
        }
        known.add(error);
        return known.size() - 1;
    }

    /** Shared parts on their principal axes, the greatest first; no more axes than matter. */
    private static double[][] principal(List<ErrorDecomposition> errors) {
        if (errors.isEmpty()) {
            return new double[0][];
        }
        Array2DRowRealMatrix common = new Array2DRowRealMatrix(
                errors.stream().map(ErrorDecomposition::common).toArray(double[][]::new), false);
        EigenDecomposition turned = new EigenDecomposition(common.transpose().multiply(common));
        double[][] all = common.multiply(turned.getV()).getData();
        int axes = 0;
        while (axes < Math.min(all[0].length, MOST_AXES) && rest(all, axes) > NEGLIGIBLE) {
            axes++;
        }
        int kept = axes;
        return Arrays.stream(all).map(row -> Arrays.copyOf(row, kept)).toArray(double[][]::new);
    }

    /** Greatest part of a variance on the axes from one on. */
    private static double rest(double[][] all, int from) {
        double greatest = 0;
        for (double[] row : all) {
            double sum = 0;
            for (int k = from; k < row.length; k++) {
                sum += row[k] * row[k];
            }
            greatest = Math.max(greatest, sum);
        }
        return greatest;
    }

    private static double[][] nodes(int axes) {
        if (axes == 0) {
            return new double[1][0];
        }
        double[][] x = new double[NODES][axes];
        HaltonSequenceGenerator others = new HaltonSequenceGenerator(axes);
        others.skipTo(1);
        for (int n = 0; n < NODES; n++) {
            double[] u = others.nextVector();
            for (int k = 0; k < axes; k++) {
                double probability = k == 0 ? (n + 0.5) / NODES : u[k - 1];
                x[n][k] = (k < SPREAD_AXES ? SPREAD : 1) * NORMAL.inverseCumulativeProbability(probability);
            }
        }
        return x;
    }

    /** Density of the causes over that of the nodes. */
    private static double[] weights(double[][] nodes) {
        return Arrays.stream(nodes)
                .mapToDouble(x -> {
                    double log = 0;
                    for (int k = 0; k < Math.min(SPREAD_AXES, x.length); k++) {
                        log += Math.log(SPREAD) - x[k] * x[k] / 2 * (1 - 1 / (SPREAD * SPREAD));
                    }
                    return Math.exp(log);
                })
                .toArray();
    }

    /**
     * Probability that any error exceeds its threshold.
     *
     * @param thresholds one for each error, in standard uncertainties; infinite for one that is left out
     */
    double exceedance(double[] thresholds) {
        double[] least = new double[own.length];
        Arrays.fill(least, Double.POSITIVE_INFINITY);
        double unknown = 0;
        for (int i = 0; i < group.length; i++) {
            if (group[i] < 0) {
                unknown += tail(thresholds[i]);
            } else {
                least[group[i]] = Math.min(least[group[i]], thresholds[i]);
            }
        }
        return Math.min(1, any(least) + unknown);
    }

    private double any(double[] thresholds) {
        double added = 0;
        double[] none = new double[weight.length];
        for (int g = 0; g < own.length; g++) {
            if (thresholds[g] < Double.POSITIVE_INFINITY) {
                added += tail(thresholds[g]);
                double threshold = thresholds[g] / own[g];
                for (int n = 0; n < none.length; n++) {
                    none[n] += LogPhiTable.at(threshold - shift[g][n]);
                }
            }
        }
        double sum = 0;
        for (int n = 0; n < none.length; n++) {
            sum -= weight[n] * Math.expm1(none[n]);
        }
        return Math.min(sum / none.length, added);
    }

    /**
     * What is to be taken off thresholds so that any error exceeds its own at the given rate; none when they are too low
     * already.
     */
    double lowering(double[] thresholds, double rate) {
        double most = 0;
        for (double threshold : thresholds) {
            most = Math.max(most, threshold < Double.POSITIVE_INFINITY ? threshold - factor(rate) : 0);
        }
        return solve(thresholds, rate, most);
    }

    private double solve(double[] thresholds, double rate, double most) {
        if (!(most > 0) || exceedance(thresholds) >= rate) {
            return 0;
        }
        double atMost = excess(thresholds, most, rate);
        if (atMost <= 0) {
            return most;
        }
        return new BrentSolver(EXACT).solve(MOST_STEPS, less -> excess(thresholds, less, rate), 0, most);
    }

    private double excess(double[] thresholds, double less, double rate) {
        return Math.log(exceedance(Arrays.stream(thresholds).map(t -> t - less).toArray()) / rate);
    }

    /** Threshold that one error exceeds at a rate. */
    static double factor(double rate) {
        return CoverageFactor.oneSided(rate);
    }

    /** Rate at which one error exceeds a threshold. */
    static double tail(double threshold) {
        return NORMAL.cumulativeProbability(-threshold);
    }

    /**
     * {@code ln Φ(x)}, Φ being the standard normal distribution function, fast enough for sums over many nodes: cubic Hermite
     * interpolation between exact values 1/32 apart, off by less than 1e-8 from −8 to 8. Beyond 8 it is 0 (−6e-16 in truth);
     * below −8 it is that of −8, −35, which counts as impossible in the sums it is for.
     */
    static final class LogPhiTable {
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

        private LogPhiTable() {}

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
}
