package ohmprint.estimation;

import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.ImpedanceOutline;

/**
 * What levels alone say about |Z| and R of a passive source.
 *
 * <p>The levels follow {@code ln m_k = −ln|1 + Z·y_k|²} up to a constant that all takes share. Candidates are the
 * passive impedances, R ≥ 0, of either sign of X. The likelihood is profiled over the phase: for each |Z| the best phase
 * is taken; the |Z| of the best fit is reported with the range in which χ² stays within 3.84 of it (95 % for one
 * parameter; t² where the variance rests on few observations). Restricting R and X² to what is possible matters: without it most of the information would be spent on
 * telling X² from negative values. Source: S. S. Wilks, Ann. Math. Statist. 9 (1938) 60–62 for the profile interval.
 *
 * @param magnitudeOhm |Z| of the best fit in ohms
 * @param lowOhm lower end of the 95 % range in ohms
 * @param highOhm upper end in ohms
 * @param resistanceOhm R of the best fit in ohms
 */
record PassiveProfile(double magnitudeOhm, double lowOhm, double highOhm, double resistanceOhm) {
    /** Magnitudes at which the edge of the region is looked for, its ends included. */
    private static final int CUTS = 9;

    private static final int HALVINGS = 16;

    /** ln of the least and the greatest |Z| that is looked at, ohms. */
    private static final double LOWEST = Math.log(1);

    private static final double HIGHEST = Math.log(1e5);
    private static final int COARSE = 100;
    private static final int FINE = 120;
    private static final int PHASES = 19;
    private static final int SECTIONS = 14;
    private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;
    private static final double BULK = 12;
    private static final int MAX_ROUNDS = 3;
    /** A grid of less than this share of the last one is worth making. */
    private static final double NARROWER = 0.7;
    /** Where a profile of nearly the same levels is looked for, beyond its range and in units of it. */
    private static final double MARGIN = 0.8;

    /**
     * Profiles the likelihood.
     *
     * @param logLevel ln m_k of every take, any common constant
     * @param variance variance of each
     * @param yRe load conductances in siemens
     * @param yIm load susceptances in siemens
     * @param factor half-width of a 95 % interval over its standard uncertainty: 1.96 where the variance is known
     */
    static PassiveProfile of(double[] logLevel, double[] variance, double[] yRe, double[] yIm, double factor) {
        Misfit misfit = new Misfit(logLevel, variance, yRe, yIm);
        return refined(new Grid(misfit, LOWEST, HIGHEST, COARSE), factor);
    }

    /** The same where this is the profile of nearly the same levels; looks elsewhere only if its range does not hold it. */
    PassiveProfile near(double[] logLevel, double[] variance, double[] yRe, double[] yIm, double factor) {
        double margin = MARGIN * Math.log(highOhm / lowOhm);
        double low = Math.max(LOWEST, Math.log(lowOhm) - margin);
        double high = Math.min(HIGHEST, Math.log(highOhm) + margin);
        Grid grid = new Grid(new Misfit(logLevel, variance, yRe, yIm), low, high, FINE);
        double enough = grid.least + factor * factor;
        boolean held = (low == LOWEST || grid.best[0] > enough) && (high == HIGHEST || grid.best[FINE - 1] > enough);
        return held ? refined(grid, factor) : of(logLevel, variance, yRe, yIm, factor);
    }

    /** Grids over the part that matters, until they no longer become narrower. */
    private static PassiveProfile refined(Grid start, double factor) {
        Grid grid = start;
        for (int round = 0; round < MAX_ROUNDS; round++) {
            double step = (grid.high - grid.low) / (grid.size - 1);
            int first = 0;
            int last = grid.size - 1;
            while (first < last && grid.best[first] > grid.least + BULK) {
                first++;
            }
            while (last > first && grid.best[last] > grid.least + BULK) {
                last--;
            }
            double from = Math.max(LOWEST, grid.low + (first - 1) * step);
            double to = Math.min(HIGHEST, grid.low + (last + 1) * step);
            if (grid.size == FINE && to - from > NARROWER * (grid.high - grid.low)) {
                break;
            }
            grid = new Grid(grid.misfit, from, to, FINE);
        }
        return grid.profile(factor * factor / 2);
    }

    /**
     * Edge of the region of R and |Z| in which χ² stays within the limit of this profile: at magnitudes from its lower to its upper
     * end the least and the greatest R. The levels are those that it was made of.
     */
    ImpedanceOutline outline(double[] logLevel, double[] variance, double[] yRe, double[] yIm, double factor) {
        Misfit misfit = new Misfit(logLevel, variance, yRe, yIm);
        double limit = misfit.half(magnitudeOhm, misfit.bestPhase(magnitudeOhm)) + factor * factor / 2;
        List<Double> resistance = new ArrayList<>();
        List<Double> magnitude = new ArrayList<>();
        for (int j = 0; j < CUTS; j++) {
            double z = lowOhm * Math.pow(highOhm / lowOhm, j / (CUTS - 1.0));
            double best = Math.abs(misfit.bestPhase(z));
            double smallest = best;
            double largest = best;
            for (int sign = -1; sign <= 1; sign += 2) {
                smallest = Math.min(smallest, misfit.farthest(z, sign * best, 0, limit));
                largest = Math.max(largest, misfit.farthest(z, sign * best, sign * Math.PI / 2, limit));
            }
            for (double phase : new double[] {smallest, largest}) {
                magnitude.add(z);
                resistance.add(z * Math.cos(phase));
            }
        }
        return new ImpedanceOutline(resistance, magnitude);
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
            double a = to - GOLDEN * (to - from);
            double b = from + GOLDEN * (to - from);
            double atA = half(z, a);
            double atB = half(z, b);
            for (int n = 0; n < SECTIONS; n++) {
                if (atA < atB) {
                    to = b;
                    b = a;
                    atB = atA;
                    a = to - GOLDEN * (to - from);
                    atA = half(z, a);
                } else {
                    from = a;
                    a = b;
                    atA = atB;
                    b = from + GOLDEN * (to - from);
                    atB = half(z, b);
                }
            }
            double middle = (from + to) / 2;
            return half(z, middle) < least ? middle : best;
        }

        /** Size of the phase up to which the misfit stays within a limit on the way to another; the first one if it does not. */
        private double farthest(double z, double from, double to, double limit) {
            if (half(z, to) <= limit) {
                return Math.abs(to);
            }
            double in = from;
            double out = to;
            for (int n = 0; n < HALVINGS; n++) {
                double middle = (in + out) / 2;
                if (half(z, middle) <= limit) {
                    in = middle;
                } else {
                    out = middle;
                }
            }
            return Math.abs(in);
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

        PassiveProfile profile(double within) {
            int top = 0;
            for (int i = 0; i < size; i++) {
                if (best[i] < best[top]) {
                    top = i;
                }
            }
            double z = Math.exp(at(top));
            return new PassiveProfile(
                    z,
                    Math.exp(crossing(top, -1, within)),
                    Math.exp(crossing(top, 1, within)),
                    z * Math.cos(misfit.bestPhase(z)));
        }

        /** ln|Z| at which the profile has risen by so much, going from the best in one direction. */
        private double crossing(int top, int direction, double within) {
            double level = least + within;
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
