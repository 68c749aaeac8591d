package ohmprint.estimate;

/**
 * What levels alone say about |Z| and R of a passive source.
 *
 * <p>The levels follow {@code ln m_k = −ln|1 + Z·y_k|²} up to a constant that all takes share. Candidates are the
 * passive impedances, R ≥ 0, of either sign of X. The likelihood is profiled over the phase: for each |Z| the best phase
 * is taken; the |Z| of the best fit is reported with the range in which χ² stays within 3.84 of it (95 % for one
 * parameter). Restricting R and X² to what is possible matters: without it most of the information would be spent on
 * telling X² from negative values. Source: S. S. Wilks, Ann. Math. Statist. 9 (1938) 60–62 for the profile interval.
 *
 * @param magnitudeOhm |Z| of the best fit in ohms
 * @param lowOhm lower end of the 95 % range in ohms
 * @param highOhm upper end in ohms
 * @param resistanceOhm R of the best fit in ohms
 * @param chiSquare χ² of the best fit
 */
record PassiveProfile(double magnitudeOhm, double lowOhm, double highOhm, double resistanceOhm, double chiSquare) {
    /** Half of the χ² quantile of 95 % for one degree of freedom. */
    private static final double WITHIN = 3.841 / 2;

    private static final double LOWEST_OHM = 1;
    private static final double HIGHEST_OHM = 1e5;
    private static final int COARSE = 160;
    private static final int FINE = 240;
    private static final int PHASES = 61;
    private static final double BULK = 12;

    /**
     * Profiles the likelihood.
     *
     * @param logLevel ln m_k of every take, any common constant
     * @param variance variance of each
     * @param yRe load conductances in siemens
     * @param yIm load susceptances in siemens
     */
    static PassiveProfile of(double[] logLevel, double[] variance, double[] yRe, double[] yIm) {
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
        return grid.profile();
    }

    /** Half the χ² on a grid of ln|Z| and phase. */
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

        PassiveProfile profile() {
            int top = 0;
            for (int i = 0; i < size; i++) {
                if (best[i] < best[top]) {
                    top = i;
                }
            }
            int bestPhase = 0;
            for (int j = 0; j < PHASES; j++) {
                if (half[top][j] < half[top][bestPhase]) {
                    bestPhase = j;
                }
            }
            double z = Math.exp(at(top));
            return new PassiveProfile(
                    z,
                    Math.exp(crossing(top, -1)),
                    Math.exp(crossing(top, 1)),
                    z * Math.cos(phase(bestPhase)),
                    2 * least);
        }

        /** ln|Z| at which the profile has risen by {@link #WITHIN}, going from the best in one direction. */
        private double crossing(int top, int direction) {
            double level = least + WITHIN;
            int i = top;
            while (i + direction >= 0 && i + direction < size && best[i + direction] < level) {
                i += direction;
            }
            int next = i + direction;
            if (next < 0 || next >= size) {
                return at(i);
            }
            return at(i) + (at(next) - at(i)) * (level - best[i]) / (best[next] - best[i]);
        }
    }
}
