package ohmprint.circuit.fit;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.circuit.fit.Candidates.Candidate;
import ohmprint.circuit.fit.Part.Value;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.exception.MathIllegalStateException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresOptimizer;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.fitting.leastsquares.MultivariateJacobianFunction;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.SingularValueDecomposition;
import org.apache.commons.math3.util.Pair;
import org.jspecify.annotations.Nullable;

/**
 * A circuit with the values that fit best.
 *
 * @param candidate the circuit
 * @param p its parameters
 * @param chiSquare sum of the squared residuals
 */
@SuppressWarnings("ArrayRecordComponent")
record Fit(Candidate candidate, double[] p, double chiSquare) {
    private static final int MOST_STEPS = 80;
    /** Steps after which only the best start is followed further. */
    private static final int FIRST_STEPS = 10;

    private static final double DONE = 1e-9;
    /** Parameters stay within e^±45: anything else is no part, and would overflow. */
    private static final double FURTHEST = 45;
    /** Directions whose slope is smaller than this share of the greatest are not determined at all. */
    private static final double FLAT = 1e-9;

    /** Goes some steps from each start, then all the way from where the best of them led; null if none leads anywhere. */
    static @Nullable Fit best(Candidate candidate, Points points, Iterable<double[]> starts) {
        Fit best = null;
        for (double[] start : starts) {
            Fit fit = from(candidate, points, start, FIRST_STEPS);
            if (fit != null && (best == null || fit.chiSquare < best.chiSquare)) {
                best = fit;
            }
        }
        Fit last = best == null ? null : from(candidate, points, best.p, MOST_STEPS);
        return last == null ? best : last;
    }

    private static @Nullable Fit from(Candidate candidate, Points points, double[] start, int steps) {
        MultivariateJacobianFunction function = p -> {
            double[] residuals = new double[points.size()];
            double[][] slopes = slopes(candidate.part(), points, p.toArray(), residuals);
            return new Pair<>(new ArrayRealVector(residuals, false), new Array2DRowRealMatrix(slopes, false));
        };
        try {
            LeastSquaresOptimizer.Optimum optimum = new LevenbergMarquardtOptimizer()
                    .withCostRelativeTolerance(DONE)
                    .withParameterRelativeTolerance(DONE)
                    .optimize(new LeastSquaresBuilder()
                            .start(start)
                            .target(new double[points.size()])
                            .model(function)
                            .parameterValidator(p -> p.map(v -> Math.max(-FURTHEST, Math.min(FURTHEST, v))))
                            .checker((step, before, now) ->
                                    step >= steps || before.getCost() - now.getCost() < DONE * before.getCost())
                            .lazyEvaluation(false)
                            .maxEvaluations(20 * MOST_STEPS)
                            .maxIterations(2 * MOST_STEPS)
                            .build());
            double chiSquare = optimum.getCost() * optimum.getCost();
            return Double.isFinite(chiSquare)
                    ? new Fit(candidate, optimum.getPoint().toArray(), chiSquare)
                    : null;
        } catch (MathIllegalStateException e) {
            // A start from which the search does not settle is one of several; the others decide.
            return null;
        }
    }

    private static double[][] slopes(Part part, Points points, double[] p, double[] residuals) {
        double[][] out = new double[points.size()][p.length];
        Complex[] slopes = new Complex[p.length];
        Arrays.fill(slopes, Complex.ZERO);
        for (int band = 0; band < points.bands(); band++) {
            Complex z = part.impedance(2 * Math.PI * points.hz(band), p, 0, slopes);
            points.residuals(band, z, residuals);
            for (int i = 0; i < p.length; i++) {
                points.slopes(band, z, slopes[i], out, i);
            }
        }
        return out;
    }

    /** Impedance at a frequency in hertz. */
    Complex impedance(double hz) {
        return candidate.part().impedance(2 * Math.PI * hz, p, 0, new Complex[p.length]);
    }

    /** Number of parameters k. */
    int size() {
        return p.length;
    }

    /** χ² over degrees of freedom. */
    double scatter(Points points) {
        return chiSquare / Math.max(1, points.size() - p.length);
    }

    /** Corrected Akaike criterion with a variance factor; infinite when there are too few numbers. */
    double criterion(Points points, double factor) {
        int spare = points.size() - p.length - 1;
        double k = p.length;
        return spare <= 0 ? Double.POSITIVE_INFINITY : chiSquare / factor + 2 * k + 2 * k * (k + 1) / spare;
    }

    /** Covariance of the parameters: noise, at least as large as the scatter shows, and what is common to all bands. */
    RealMatrix covariance(Points points) {
        SingularValueDecomposition parts = new SingularValueDecomposition(
                new Array2DRowRealMatrix(slopes(candidate.part(), points, p, new double[points.size()]), false));
        double[] singular = parts.getSingularValues();
        int n = p.length;
        RealMatrix inverse = new Array2DRowRealMatrix(n, points.size());
        RealMatrix u = parts.getU();
        RealMatrix v = parts.getV();
        RealMatrix noise = new Array2DRowRealMatrix(n, n);
        double factor = Math.max(1, scatter(points));
        for (int s = 0; s < n; s++) {
            double value = Math.max(singular[s], FLAT * singular[0]);
            RealMatrix column = v.getColumnMatrix(s);
            noise = noise.add(column.multiply(column.transpose()).scalarMultiply(factor / (value * value)));
            inverse = inverse.add(
                    column.multiply(u.getColumnMatrix(s).transpose()).scalarMultiply(1 / value));
        }
        for (double[] cause : points.common()) {
            RealMatrix shift = inverse.multiply(new Array2DRowRealMatrix(cause));
            noise = noise.add(shift.multiply(shift.transpose()));
        }
        return noise;
    }

    /**
     * The same circuit with the one of two parts of one kind first that works lower in frequency. Two resonances in series, or
     * two bridged inductors, may be exchanged without a change of the circuit, and the fit ends at either.
     */
    Fit byFrequency() {
        return ordered(Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY);
    }

    /** The same circuit with the one of two parts of one kind first that is nearer to the first of that kind in another. */
    Fit like(Fit other) {
        int tuned = other.index("resonance_ohm");
        int bridged = other.index("bridged_henry");
        return ordered(
                tuned < 0 ? Double.NEGATIVE_INFINITY : other.p[tuned + 1],
                bridged < 0 ? Double.NEGATIVE_INFINITY : other.p[bridged + 1] - other.p[bridged]);
    }

    /** Orders by distance from the logarithms of a frequency, and of a corner R/L in rad/s. */
    private Fit ordered(double hz, double corner) {
        double[] q = p.clone();
        int tuned = index("resonance_ohm");
        if (candidate.resonances() == 2 && isNearer(q[tuned + 4], q[tuned + 1], hz)) {
            swap(q, tuned, 3);
        }
        int bridged = index("bridged_henry");
        if (index("second_bridged_henry") >= 0
                && isNearer(q[bridged + 3] - q[bridged + 2], q[bridged + 1] - q[bridged], corner)) {
            swap(q, bridged, 2);
        }
        return new Fit(candidate, q, chiSquare);
    }

    /** Whether a is nearer to a place than b; to a place at minus infinity the lower one is. */
    private static boolean isNearer(double a, double b, double place) {
        return Double.isInfinite(place) ? a < b : Math.abs(a - place) < Math.abs(b - place);
    }

    private static void swap(double[] p, int from, int length) {
        for (int i = from; i < from + length; i++) {
            double kept = p[i];
            p[i] = p[i + length];
            p[i + length] = kept;
        }
    }

    private int index(String name) {
        List<Value> values = candidate.part().values();
        return IntStream.range(0, values.size())
                .filter(i -> values.get(i).name().equals(name))
                .findFirst()
                .orElse(-1);
    }
}
