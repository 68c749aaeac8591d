package ohmprint.estimate;

/**
 * What levels alone say about |Z| and R of a passive source.
 *
 * <p>The levels follow {@code ln m_k = −ln|1 + Z·y_k|²} up to a constant that all takes share. Every passive impedance is
 * a candidate: ln|Z| and the phase, from −90° to 90°, are uniform beforehand. The posterior is summed over a grid that is
 * refined around its bulk; the median of |Z| is reported with the quantiles of 2.5 and 97.5 %. Without the restriction
 * to R ≥ 0 and X² ≥ 0 most of the information would be spent on impedances that no microphone has. Source of the
 * treatment: JCGM 101:2008, 5.11 and annex C (propagation of a distribution numerically).
 *
 * @param magnitudeOhm posterior median of |Z| in ohms
 * @param lowOhm quantile of 2.5 % in ohms
 * @param highOhm quantile of 97.5 % in ohms
 * @param resistanceOhm posterior mean of R in ohms
 */
record PassivePosterior(double magnitudeOhm, double lowOhm, double highOhm, double resistanceOhm) {
    private static final double LOWEST_OHM = 1;
    private static final double HIGHEST_OHM = 1e5;
    private static final int COARSE = 160;
    private static final int FINE = 240;
    private static final int PHASES = 61;
    private static final double BULK = 40;

    /**
     * Sums the posterior.
     *
     * @param logLevel ln m_k of every take, any common constant
     * @param variance variance of each
     * @param yRe load conductances in siemens
     * @param yIm load susceptances in siemens
     */
    static PassivePosterior of(double[] logLevel, double[] variance, double[] yRe, double[] yIm) {
        double low = Math.log(LOWEST_OHM);
        double high = Math.log(HIGHEST_OHM);
        Grid grid = new Grid(logLevel, variance, yRe, yIm, low, high, COARSE);
        for (int round = 0; round < 3; round++) {
            double step = (grid.high - grid.low) / (grid.size - 1);
            int first = 0;
            int last = grid.size - 1;
            while (first < last && grid.best[first] > grid.least + BULK) {
                first++;
            }
            while (last > first && grid.best[last] > grid.least + BULK) {
                last--;
            }
            double from = grid.low + (first - 1) * step;
            double to = grid.low + (last + 1) * step;
            grid = new Grid(logLevel, variance, yRe, yIm, Math.max(low, from), Math.min(high, to), FINE);
        }
        return grid.posterior();
    }

    /** Half the χ² and the weights on a grid of ln|Z| and phase. */
    private static final class Grid {
        final double low;
        final double high;
        final int size;
        final double[] best;
        final double[][] half;
        double least = Double.POSITIVE_INFINITY;

        Grid(double[] logLevel, double[] variance, double[] yRe, double[] yIm, double low, double high, int size) {
            this.low = low;
            this.high = high;
            this.size = size;
            this.best = new double[size];
            this.half = new double[size][PHASES];
            double total = 0;
            for (double v : variance) {
                total += 1 / v;
            }
            double[] rest = new double[logLevel.length];
            for (int i = 0; i < size; i++) {
                double z = Math.exp(at(i));
                best[i] = Double.POSITIVE_INFINITY;
                for (int j = 0; j < PHASES; j++) {
                    double r = z * Math.cos(phase(j));
                    double x = z * Math.sin(phase(j));
                    double mean = 0;
                    for (int k = 0; k < rest.length; k++) {
                        double a = 1 + r * yRe[k] - x * yIm[k];
                        double b = r * yIm[k] + x * yRe[k];
                        rest[k] = logLevel[k] + Math.log(a * a + b * b);
                        mean += rest[k] / variance[k] / total;
                    }
                    double chi2 = 0;
                    for (int k = 0; k < rest.length; k++) {
                        chi2 += (rest[k] - mean) * (rest[k] - mean) / variance[k];
                    }
                    half[i][j] = chi2 / 2;
                    best[i] = Math.min(best[i], chi2 / 2);
                }
                least = Math.min(least, best[i]);
            }
        }

        private double at(int i) {
            return low + (high - low) * i / (size - 1);
        }

        private static double phase(int j) {
            return Math.PI * ((double) j / (PHASES - 1) - 0.5);
        }

        PassivePosterior posterior() {
            double[] mass = new double[size];
            double sum = 0;
            double resistance = 0;
            for (int i = 0; i < size; i++) {
                for (int j = 0; j < PHASES; j++) {
                    double w = Math.exp(least - half[i][j]);
                    mass[i] += w;
                    resistance += w * Math.exp(at(i)) * Math.cos(phase(j));
                }
                sum += mass[i];
            }
            return new PassivePosterior(
                    quantile(mass, sum, 0.5), quantile(mass, sum, 0.025), quantile(mass, sum, 0.975), resistance / sum);
        }

        private double quantile(double[] mass, double sum, double share) {
            double wanted = share * sum;
            double below = 0;
            for (int i = 0; i < size; i++) {
                if (below + mass[i] >= wanted) {
                    double part = (wanted - below) / mass[i] - 0.5;
                    return Math.exp(at(i) + part * (high - low) / (size - 1));
                }
                below += mass[i];
            }
            return Math.exp(high);
        }
    }
}
