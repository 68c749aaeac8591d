package ohmprint.estimation;

import java.util.Arrays;
import java.util.function.ToDoubleFunction;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * Newton's method for the minimum of a function that is known by its values alone: gradient and curvature are differences
 * over steps of one, {@code g_a = (f(+e_a) − f(−e_a))/2} and {@code H_ab = f(e_a + e_b) − f(e_a) − f(e_b) + f}, and the step is
 * damped as Levenberg and Marquardt do, {@code (H + λ·diag|H|)·p = −g}.
 */
final class NewtonByDifferences {
    private static final int ROUNDS = 30;
    private static final double FIRST_DAMPING = 1e-3;
    private static final double LEAST_DAMPING = 1e-6;
    private static final double STUCK = 1e6;
    /** The longest way in one go; the function need not be a parabola further away. */
    private static final double LARGEST_MOVE = 20;

    private static final double CLOSE = 1e-3;
    /** A gain of less than this share of the value is small: a tenth of what one degree of freedom of a hundred leaves. */
    private static final double SMALL_GAIN = 1e-3;
    /** So many small gains in a row end the search: near a minimum the second one is none, on a flat slope many would follow. */
    private static final int SMALL_GAINS = 2;

    private final ToDoubleFunction<double[]> function;

    /**
     * Where a search has ended.
     *
     * @param at the place
     * @param value of the function there
     */
    record Minimum(double[] at, double value) {}

    NewtonByDifferences(ToDoubleFunction<double[]> function) {
        this.function = function;
    }

    /** The minimum that is reached from a start. */
    Minimum from(double[] start) {
        double[] at = start;
        double here = function.applyAsDouble(at);
        double damping = FIRST_DAMPING;
        int small = 0;
        for (int round = 0; round < ROUNDS && small < SMALL_GAINS; round++) {
            Parabola parabola = around(at, here);
            double before = here;
            double moved = 0;
            while (damping < STUCK) {
                double[] next = parabola.step(damping);
                double there = next == null ? Double.NaN : function.applyAsDouble(next);
                if (next != null && there <= here) {
                    for (int a = 0; a < at.length; a++) {
                        moved = Math.max(moved, Math.abs(next[a] - at[a]));
                    }
                    at = next;
                    here = there;
                    damping /= 10;
                    break;
                }
                damping = Math.max(damping, LEAST_DAMPING) * 10;
            }
            if (moved < CLOSE) {
                break;
            }
            small = before - here < SMALL_GAIN * here ? small + 1 : 0;
        }
        return new Minimum(at, here);
    }

    /** Where the first step from a place leads to; null when the function is flat there. */
    double @Nullable [] firstStep(double[] at) {
        return around(at, function.applyAsDouble(at)).step(FIRST_DAMPING);
    }

    /** Inverse of the curvature at a place, or null when there is none. */
    @Nullable
    RealMatrix inverseCurvature(double[] at) {
        DecompositionSolver solver =
                new LUDecomposition(around(at, function.applyAsDouble(at)).curvature()).getSolver();
        return solver.isNonSingular() ? solver.getInverse() : null;
    }

    private Parabola around(double[] at, double here) {
        int n = at.length;
        double[] up = new double[n];
        double[] gradient = new double[n];
        RealMatrix curvature = new Array2DRowRealMatrix(n, n);
        for (int a = 0; a < n; a++) {
            up[a] = function.applyAsDouble(moved(at, a, 1));
            double down = function.applyAsDouble(moved(at, a, -1));
            gradient[a] = (up[a] - down) / 2;
            curvature.setEntry(a, a, up[a] - 2 * here + down);
        }
        for (int a = 0; a < n; a++) {
            for (int b = 0; b < a; b++) {
                double both = function.applyAsDouble(moved(moved(at, a, 1), b, 1));
                curvature.setEntry(a, b, both - up[a] - up[b] + here);
                curvature.setEntry(b, a, curvature.getEntry(a, b));
            }
        }
        return new Parabola(at, gradient, curvature);
    }

    private static double[] moved(double[] at, int a, double by) {
        double[] out = at.clone();
        out[a] += by;
        return out;
    }

    /** What the function looks like around a place. */
    private record Parabola(double[] at, double[] gradient, RealMatrix curvature) {
        /** Where a damped step leads to; null when there is no such step. */
        double @Nullable [] step(double damping) {
            RealMatrix damped = curvature.copy();
            for (int a = 0; a < at.length; a++) {
                damped.addToEntry(a, a, damping * Math.abs(curvature.getEntry(a, a)));
            }
            DecompositionSolver solver = new LUDecomposition(damped).getSolver();
            if (!solver.isNonSingular()) {
                return null;
            }
            double[] step = solver.getInverse().operate(gradient);
            double largest = Arrays.stream(step).map(Math::abs).max().orElse(0);
            double scale = Math.min(1, LARGEST_MOVE / largest);
            double[] out = at.clone();
            for (int a = 0; a < out.length; a++) {
                out[a] -= scale * step[a];
            }
            return out;
        }
    }
}
