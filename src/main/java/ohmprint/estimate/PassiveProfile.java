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
    private static final int FINE = 120;
    private static final int PHASES = 37;
    private static final int SECTIONS = 12;
    private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;
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
        Misfit misfit = new Misfit(logLevel, variance, yRe, yIm);
        double low = Math.log(LOWEST_OHM);
        double high = Math.log(HIGHEST_OHM);
        Grid grid = new Grid(misfit, low, high, COARSE);
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
            grid = new Grid(misfit, Math.max(low, from), Math.min(high, to), FINE);
        }
        return grid.profile();
    }

    /** Half the χ² as a function of |Z| and phase. */
    private record Misfit(double[] logLevel, double[] variance, double[] yRe, double[] yIm) {
        double half(double z, double phase) {
            double r = z * Math.cos(phase);
            double x = z * Math.sin(phase);
            double total = 0;
            double mean = 0;
            double square = 0;
            for (int k = 0; k < logLevel.length; k++) {
                double a = 1 + r * yRe[k] - x * yIm[k];
                double b = r * yIm[k] + x * yRe[k];
                double rest = logLevel[k] + Math.log(a * a + b * b);
                total += 1 / variance[k];
                mean += rest / variance[k];
                square += rest * rest / variance[k];
            }
            return Math.max(0, square - mean * mean / total) / 2;
        }

        /** Best phase for one |Z|: a coarse scan from −90° to 90°, then golden sections around its best. */
        double bestPhase(double z) {
            double step = Math.PI / (PHASES - 1);
            double best = 0;
            double least = Double.POSITIVE_INFINITY;
            for (int j = 0; j < PHASES; j++) {
                double here = half(z, j * step - Math.PI / 2);
                if (here < least) {
                    least = here;
                    best = j * step - Math.PI / 2;
                }
            }
            double from = Math.max(-Math.PI / 2, best - step);
            double to = Math.min(Math.PI / 2, best + step);
            for (int n = 0; n < SECTIONS; n++) {
                double a = to - GOLDEN * (to - from);
                double b = from + GOLDEN * (to - from);
                if (half(z, a) < half(z, b)) {
                    to = b;
                } else {
                    from = a;
                }
            }
            double middle = (from + to) / 2;
            return half(z, middle) < least ? middle : best;
        }
    }

    /** The profile over ln|Z|. */
    private static final class Grid {
        final Misfit misfit;
        final double low;
        final double high;
        final int size;
        final double[] best;
        double least = Double.POSITIVE_INFINITY;

        Grid(Misfit misfit, double low, double high, int size) {
            this.misfit = misfit;
            this.low = low;
            this.high = high;
            this.size = size;
            this.best = new double[size];
            for (int i = 0; i < size; i++) {
                double z = Math.exp(at(i));
                best[i] = misfit.half(z, misfit.bestPhase(z));
                least = Math.min(least, best[i]);
            }
        }

        private double at(int i) {
            return low + (high - low) * i / (size - 1);
        }

        PassiveProfile profile() {
            int top = 0;
            for (int i = 0; i < size; i++) {
                if (best[i] < best[top]) {
                    top = i;
                }
            }
            double z = Math.exp(at(top));
            return new PassiveProfile(
                    z,
                    Math.exp(crossing(top, -1)),
                    Math.exp(crossing(top, 1)),
                    z * Math.cos(misfit.bestPhase(z)),
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
