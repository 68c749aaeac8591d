package ohmprint.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import ohmprint.circuit.Load;
import ohmprint.curve.FrequencyBands;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * Delays between takes of three or more loads, told by the loads themselves.
 *
 * <p>With K different loads the K − 1 complex ratios of a bin depend on one Z; what they cannot share is delay. The delays
 * τ_k minimise the unexplained power over signal power, summed over sixths of an octave with a Z of its own in each, by
 * Newton's method on differences. A delay leaves the points of {@code 1/D_k} against y_k off their line by a phase that
 * grows with frequency, which neither loads nor gains do. When playing and recording were on two clocks, each take may
 * also run at a rate of its own: {@code τ_k + δ_k·(t(f) − t(f_0))}, where t(f) is when a sweep passes f and f_0 is {@value #MIDDLE_HZ} Hz.
 *
 * @param seconds delay of every take behind the pivot, on top of what was taken out before, seconds
 * @param skew rate difference δ_k of every take to the pivot, or zeros
 * @param standardUncertainty of the delays, seconds, from what the fit leaves
 * @param unexplained share of the signal power that is left, mean of the bands
 * @param unexplainedBefore the same without any delay
 */
public record DelaysByLoads(
        double[] seconds, double[] skew, double[] standardUncertainty, double unexplained, double unexplainedBefore) {
    private static final int CELLS_PER_OCTAVE = 48;
    private static final int BANDS_PER_OCTAVE = 6;
    private static final double FROM_HZ = 60;
    /** From here on a delay of a tenth of a sample turns phases visibly. */
    private static final double TREBLE_HZ = 2000;
    /** Share of the unexplained power that is left when a delay is suspected. */
    private static final double SUSPICIOUS = 0.5;

    /** Share of the signal power from which what is left is plain to see: what a per cent leaves. */
    private static final double VISIBLE = 1e-4;

    private static final double MIDDLE_HZ = 8000;
    private static final double STEP_SECONDS = 1e-7;
    private static final double CLOSE_SECONDS = 1e-10;
    /** Standard uncertainty of the delays that are begun with, seconds. */
    private static final double BELIEVED_SECONDS = 5e-6;
    /** Usual difference that clocks make to takes over one sweep, seconds. */
    private static final double BELIEVED_STRETCH_SECONDS = 3e-5;

    /** Rise of χ² up to which another end of the search is as good as the best. */
    private static final double AS_GOOD = 12;

    private static final int ROUNDS = 30;
    private static final double STUCK = 1e6;
    /** Upper ends of the range, lowest first: below, a delay turns phases by little, so that the search cannot miss. */
    private static final double[] UP_TO_HZ = {2500, 6000};

    private static final double LARGEST_MOVE = 2e-6;
    private static final double LEAST_UNCERTAINTY = 2e-9;

    /**
     * Fits the delays.
     *
     * @param obs takes aligned to within a few microseconds
     * @param takes what each drives
     * @param pivot take whose delay is zero
     * @param toHz highest frequency to use, hertz
     * @param passing when the sound passes a frequency, seconds, for takes that may each run at a rate of their own; null
     *     when all run alike
     * @return null with fewer than three different loads
     */
    public static @Nullable DelaysByLoads of(
            BinObservations obs, LoadedTakes takes, int pivot, double toHz, @Nullable DoubleUnaryOperator passing) {
        if (distinct(takes) < 3) {
            return null;
        }
        Problem problem = new Problem(obs.merged(CELLS_PER_OCTAVE), takes, pivot, passing);
        Fit fit = new Fit(problem, toHz);
        double[] none = new double[fit.unit.length];
        List<double[]> ends = new ArrayList<>();
        ends.add(fit.from(none));
        for (double[] start : starts(problem, none, fit.free.length, toHz)) {
            ends.add(fit.from(start));
        }
        ends.sort(Comparator.comparingDouble(fit::cost));
        return fit.result(ends, fit.unexplained(none));
    }

    /**
     * Largest delay that a single step of the search would take out of the treble, seconds: a quick look whether takes
     * that seem to be aligned are; 0 with fewer than three different loads, or when the step would explain little. Infinite
     * when more is left than one step can tell the cause of.
     */
    public static double suspicion(BinObservations obs, LoadedTakes takes, int pivot, double toHz) {
        if (toHz <= TREBLE_HZ || distinct(takes) < 3) {
            return 0;
        }
        Fit fit = new Fit(
                new Problem(obs.merged(CELLS_PER_OCTAVE), takes, pivot, null),
                FrequencyBands.within(BANDS_PER_OCTAVE, TREBLE_HZ, toHz));
        double[] none = new double[fit.unit.length];
        double here = fit.unexplained(none);
        if (here > VISIBLE * fit.bands.size()) {
            return Double.POSITIVE_INFINITY;
        }
        double[] gradient = new double[none.length];
        double[][] curvature = fit.curvature(none, fit.cost(none), gradient);
        double[] step = Fit.next(none, gradient, curvature, 1e-3);
        if (step.length == 0 || !(fit.unexplained(step) < SUSPICIOUS * here)) {
            return 0;
        }
        return Arrays.stream(step).map(Math::abs).max().orElse(0) * STEP_SECONDS;
    }

    private static long distinct(LoadedTakes takes) {
        return takes.loads().stream().mapToDouble(Load::conductance).distinct().count();
    }

    /** Where else to begin: at what low frequencies say, and to either side. */
    private static List<double[]> starts(Problem problem, double[] none, int delays, double toHz) {
        double[] staged = none;
        for (double highest : UP_TO_HZ) {
            staged = highest < toHz ? new Fit(problem, highest).from(staged) : staged;
        }
        double[] later = none.clone();
        Arrays.fill(later, 0, delays, BELIEVED_SECONDS / STEP_SECONDS);
        double[] earlier = none.clone();
        Arrays.fill(earlier, 0, delays, -BELIEVED_SECONDS / STEP_SECONDS);
        return List.of(staged, later, earlier);
    }

    /** What is given. */
    private record Problem(
            BinObservations cells,
            LoadedTakes takes,
            int pivot,
            @Nullable DoubleUnaryOperator passing) {}

    /** Delay of take {@code k} at a frequency, seconds. */
    public double at(int k, double hz, @Nullable DoubleUnaryOperator passing) {
        return seconds[k]
                + (passing == null ? 0 : skew[k] * (passing.applyAsDouble(hz) - passing.applyAsDouble(MIDDLE_HZ)));
    }

    /** The problem and its present state. */
    private static final class Fit {
        private final BinObservations cells;
        private final LoadedTakes takes;
        private final FrequencyBands bands;
        private final int[] free;
        private final double[] unit;
        private final double[] passes;
        private final double spread;
        private double expected;
        private double freedom;

        Fit(Problem problem, double toHz) {
            this(problem, FrequencyBands.within(BANDS_PER_OCTAVE, FROM_HZ, toHz));
        }

        Fit(Problem problem, FrequencyBands bands) {
            this.cells = problem.cells;
            this.takes = problem.takes;
            this.bands = bands;
            int pivot = problem.pivot;
            DoubleUnaryOperator passing = problem.passing;
            this.free = IntStream.range(0, takes.size()).filter(k -> k != pivot).toArray();
            this.passes = new double[cells.size()];
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < passes.length; i++) {
                passes[i] = passing == null ? 0 : passing.applyAsDouble(cells.hz(i)) - passing.applyAsDouble(MIDDLE_HZ);
                low = Math.min(low, passes[i]);
                high = Math.max(high, passes[i]);
            }
            this.spread = Math.max(0, high - low);
            this.unit = new double[passing == null ? free.length : 2 * free.length];
            for (int j = 0; j < unit.length; j++) {
                unit[j] = j < free.length ? STEP_SECONDS : STEP_SECONDS / spread;
            }
        }

        /** What is left, and what is believed of the delays beforehand. */
        double cost(double[] at) {
            double sum = unexplained(at);
            double noise = expected / Math.max(1, freedom);
            for (int a = 0; a < at.length; a++) {
                double sigma = a < free.length ? BELIEVED_SECONDS : BELIEVED_STRETCH_SECONDS;
                sum += noise * Math.pow(at[a] * STEP_SECONDS / sigma, 2);
            }
            return sum;
        }

        /** Newton's method with the damping of Levenberg and Marquardt, in steps of {@link #unit}. */
        double[] from(double[] start) {
            double[] at = start;
            double here = cost(at);
            double damping = 1e-3;
            for (int round = 0; round < ROUNDS; round++) {
                double[] gradient = new double[at.length];
                double[][] curvature = curvature(at, here, gradient);
                double moved = 0;
                while (damping < STUCK) {
                    double[] next = next(at, gradient, curvature, damping);
                    double there = next.length == 0 ? Double.NaN : cost(next);
                    if (there <= here) {
                        for (int a = 0; a < at.length; a++) {
                            moved = Math.max(moved, Math.abs(next[a] - at[a]));
                        }
                        at = next;
                        here = there;
                        damping /= 10;
                        break;
                    }
                    damping = Math.max(damping, 1e-6) * 10;
                }
                if (moved * STEP_SECONDS < CLOSE_SECONDS) {
                    break;
                }
            }
            return at;
        }

        /** Second differences; the gradient is filled in. */
        private double[][] curvature(double[] at, double here, double[] gradient) {
            int n = at.length;
            double[] up = new double[n];
            double[][] curvature = new double[n][n];
            for (int a = 0; a < n; a++) {
                up[a] = cost(moved(at, a, 1));
                double down = cost(moved(at, a, -1));
                gradient[a] = (up[a] - down) / 2;
                curvature[a][a] = up[a] - 2 * here + down;
            }
            for (int a = 0; a < n; a++) {
                for (int b = 0; b < a; b++) {
                    double both = cost(moved(moved(at, a, 1), b, 1));
                    curvature[a][b] = both - up[a] - up[b] + here;
                    curvature[b][a] = curvature[a][b];
                }
            }
            return curvature;
        }

        private static double[] next(double[] at, double[] gradient, double[][] curvature, double damping) {
            RealMatrix damped = new Array2DRowRealMatrix(curvature);
            for (int a = 0; a < at.length; a++) {
                damped.addToEntry(a, a, damping * Math.abs(curvature[a][a]));
            }
            DecompositionSolver solver = new LUDecomposition(damped).getSolver();
            if (!solver.isNonSingular()) {
                return new double[0];
            }
            double[] step = solver.getInverse().operate(gradient);
            double largest = Arrays.stream(step).map(Math::abs).max().orElse(0) * STEP_SECONDS;
            double scale = Math.min(1, LARGEST_MOVE / largest);
            double[] out = at.clone();
            for (int a = 0; a < out.length; a++) {
                out[a] -= scale * step[a];
            }
            return out;
        }

        /**
         * Value and uncertainty: the noise by its degrees of freedom, what is left beyond it band by band. Of ends that are
         * as good as each other (a source and its mirror image with the other sign of X can be), the one nearest to where
         * the search began is taken if takes run alike, and the way to the others is uncertainty.
         *
         * @param ends where the searches ended, the best first
         */
        DelaysByLoads result(List<double[]> ends, double before) {
            double left = unexplained(ends.get(0));
            int k = takes.size();
            double systematic = Math.max(0, left - expected) / Math.max(1, 2.0 * bands.size() * (k - 2) - unit.length);
            double perResidual = expected / freedom + systematic;
            double limit = cost(ends.get(0)) + AS_GOOD * perResidual;
            List<double[]> good =
                    ends.stream().filter(end -> cost(end) <= limit).toList();
            double[] at =
                    good.stream().min(Comparator.comparingDouble(Fit::distance)).orElseThrow();
            DecompositionSolver solver = new LUDecomposition(
                            new Array2DRowRealMatrix(curvature(at, cost(at), new double[at.length])))
                    .getSolver();
            RealMatrix inverse = solver.isNonSingular() ? solver.getInverse() : null;
            double[] seconds = new double[k];
            double[] skew = new double[k];
            double[] u = new double[k];
            for (int j = 0; j < free.length; j++) {
                int take = free[j];
                seconds[take] = at[j] * unit[j];
                skew[take] = unit.length > free.length ? at[free.length + j] * unit[free.length + j] : 0;
                double variance = inverse == null ? Double.NaN : 2 * perResidual * inverse.getEntry(j, j);
                u[take] = variance >= 0 ? Math.max(LEAST_UNCERTAINTY, Math.sqrt(variance) * unit[j]) : BELIEVED_SECONDS;
                for (double[] end : good) {
                    u[take] = Math.max(u[take], Math.abs(end[j] - at[j]) * unit[j]);
                }
            }
            return new DelaysByLoads(seconds, skew, u, unexplained(at) / bands.size(), before / bands.size());
        }

        private static double distance(double[] at) {
            return Arrays.stream(at).map(v -> v * v).sum();
        }

        private static double[] moved(double[] at, int a, double by) {
            double[] out = at.clone();
            out[a] += by;
            return out;
        }

        /** Sum over the bands of what one Z per band leaves, as a share of the signal power. */
        private double unexplained(double[] at) {
            BinObservations turned = cells.advanced((take, i) -> {
                int j = Arrays.binarySearch(free, take);
                return j < 0
                        ? 0
                        : at[j] * unit[j]
                                + (unit.length > free.length
                                        ? at[free.length + j] * unit[free.length + j] * passes[i]
                                        : 0);
            });
            BandSolver solver = new BandSolver(turned, takes, List.of());
            double sum = 0;
            expected = 0;
            freedom = 0;
            for (int b = 0; b < bands.size(); b++) {
                int from = turned.firstAtOrAbove(bands.lowerEdge(b));
                int to = turned.firstAtOrAbove(bands.upperEdge(b));
                @Nullable BandFit fit = to - from < 3 ? null : solver.fit(from, to, bands.midband(b), 1);
                if (fit != null && Double.isFinite(fit.residual()) && fit.signalToNoise() > 0) {
                    double signal = turned.averages() * fit.bins() * fit.signalToNoise() * takes.size();
                    sum += fit.residual() / signal;
                    expected += fit.degreesOfFreedom() / signal;
                    freedom += 2 * fit.degreesOfFreedom();
                }
            }
            return sum;
        }
    }
}
