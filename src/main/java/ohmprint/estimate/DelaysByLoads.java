package ohmprint.estimate;

import java.util.Arrays;
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
 * also run at a rate of its own: {@code τ_k + δ_k·t(f)}, where t(f) is when the sound passes f, for a sweep.
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
    private static final double STEP_SECONDS = 1e-7;
    private static final double CLOSE_SECONDS = 1e-10;
    private static final int ROUNDS = 8;
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
     * @return null with fewer than three different loads, or when the delays are not determined
     */
    public static @Nullable DelaysByLoads of(
            BinObservations obs, LoadedTakes takes, int pivot, double toHz, @Nullable DoubleUnaryOperator passing) {
        if (takes.loads().stream().mapToDouble(Load::conductance).distinct().count() < 3) {
            return null;
        }
        return new Fit(
                        obs.merged(CELLS_PER_OCTAVE),
                        takes,
                        pivot,
                        FrequencyBands.within(BANDS_PER_OCTAVE, FROM_HZ, toHz),
                        passing)
                .run();
    }

    /** Delay of take {@code k} at a frequency, seconds. */
    public double at(int k, double hz, @Nullable DoubleUnaryOperator passing) {
        return seconds[k] + (passing == null ? 0 : skew[k] * passing.applyAsDouble(hz));
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

        Fit(
                BinObservations cells,
                LoadedTakes takes,
                int pivot,
                FrequencyBands bands,
                @Nullable DoubleUnaryOperator passing) {
            this.cells = cells;
            this.takes = takes;
            this.bands = bands;
            this.free = IntStream.range(0, takes.size()).filter(k -> k != pivot).toArray();
            this.passes = new double[cells.size()];
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < passes.length; i++) {
                passes[i] = passing == null ? 0 : passing.applyAsDouble(cells.hz(i));
                low = Math.min(low, passes[i]);
                high = Math.max(high, passes[i]);
            }
            this.spread = Math.max(0, high - low);
            this.unit = new double[passing == null ? free.length : 2 * free.length];
            for (int j = 0; j < unit.length; j++) {
                unit[j] = j < free.length ? STEP_SECONDS : STEP_SECONDS / spread;
            }
        }

        @Nullable
        DelaysByLoads run() {
            double[] at = new double[unit.length];
            double before = unexplained(at);
            double here = before;
            RealMatrix inverse = null;
            for (int round = 0; round < ROUNDS; round++) {
                int n = at.length;
                double[] up = new double[n];
                double[] gradient = new double[n];
                double[][] curvature = new double[n][n];
                for (int a = 0; a < n; a++) {
                    up[a] = unexplained(moved(at, a, 1));
                    double down = unexplained(moved(at, a, -1));
                    gradient[a] = (up[a] - down) / 2;
                    curvature[a][a] = up[a] - 2 * here + down;
                }
                for (int a = 0; a < n; a++) {
                    for (int b = 0; b < a; b++) {
                        double both = unexplained(moved(moved(at, a, 1), b, 1));
                        curvature[a][b] = both - up[a] - up[b] + here;
                        curvature[b][a] = curvature[a][b];
                    }
                }
                DecompositionSolver solver = new LUDecomposition(new Array2DRowRealMatrix(curvature)).getSolver();
                if (!solver.isNonSingular() || IntStream.range(0, n).anyMatch(a -> !(curvature[a][a] > 0))) {
                    return null;
                }
                inverse = solver.getInverse();
                double[] step = inverse.operate(gradient);
                double largest = Arrays.stream(step).map(Math::abs).max().orElse(0) * STEP_SECONDS;
                double scale = Math.min(1, LARGEST_MOVE / largest);
                double[] next = at.clone();
                for (int a = 0; a < n; a++) {
                    next[a] -= scale * step[a];
                }
                double there = unexplained(next);
                if (!(there <= here)) {
                    break;
                }
                at = next;
                here = there;
                if (scale * largest < CLOSE_SECONDS) {
                    break;
                }
            }
            return result(at, here, before, inverse);
        }

        private @Nullable DelaysByLoads result(double[] at, double here, double before, @Nullable RealMatrix inverse) {
            int k = takes.size();
            double freedom = Math.max(1, 2.0 * bands.size() * (k - 2) - at.length);
            double[] seconds = new double[k];
            double[] skew = new double[k];
            double[] u = new double[k];
            for (int j = 0; j < free.length; j++) {
                seconds[free[j]] = at[j] * unit[j];
                skew[free[j]] = unit.length > free.length ? at[free.length + j] * unit[free.length + j] : 0;
                double variance = inverse == null ? Double.NaN : 2 * here / freedom * inverse.getEntry(j, j);
                if (!(variance >= 0)) {
                    return null;
                }
                u[free[j]] = Math.max(LEAST_UNCERTAINTY, Math.sqrt(variance) * unit[j]);
            }
            return new DelaysByLoads(seconds, skew, u, here / bands.size(), before / bands.size());
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
            BandSolver solver = new BandSolver(turned, takes, java.util.List.of());
            double sum = 0;
            for (int b = 0; b < bands.size(); b++) {
                int from = turned.firstAtOrAbove(bands.lowerEdge(b));
                int to = turned.firstAtOrAbove(bands.upperEdge(b));
                @Nullable BandFit fit = to - from < 3 ? null : solver.fit(from, to, bands.midband(b), 1);
                if (fit != null && Double.isFinite(fit.residual()) && fit.signalToNoise() > 0) {
                    sum += fit.residual() / (turned.averages() * fit.bins() * fit.signalToNoise() * takes.size());
                }
            }
            return sum;
        }
    }
}
