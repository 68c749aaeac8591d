package ohmprint.estimate;

import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/** Normal equations of one Gauss–Newton step: the information is real because h is analytic in Z. */
final class NormalEquations {
    final Array2DRowRealMatrix information;
    final RealVector gradientRe;
    final RealVector gradientIm;
    double cost;
    double signalToNoise;
    double score;
    double informationTotal;
    double informationSquare;

    NormalEquations(int terms) {
        information = new Array2DRowRealMatrix(terms, terms);
        gradientRe = new ArrayRealVector(terms);
        gradientIm = new ArrayRealVector(terms);
    }

    /**
     * Observed over stated noise variance by the scores of the bins: {@code max(1, n)·Σ|∂C/∂Z*|²/ΣF·ν/(ν − p)}, p the terms
     * that the fit has set to zero and ν as in {@link #scoreFreedom}. The score of a bin has the variance F/n if the bin is the
     * mean of n ≥ 1 snapshots; where n < 1 stands for bins that are correlated, that of each is F all the same.
     *
     * @param averages n, independent complex snapshots per bin
     */
    double scoreScale(double averages) {
        double independent = independent(averages);
        return Math.max(1, averages)
                * score
                / informationTotal
                * independent
                / Math.max(0.5, independent - gradientRe.getDimension());
    }

    /**
     * Complex degrees of freedom of the scores: {@code ν − p}, {@code ν = min(1, n)·(ΣF)²/ΣF²} the effective number of
     * independent bins.
     *
     * @param averages n, independent complex snapshots per bin
     */
    double scoreFreedom(double averages) {
        return Math.max(0, independent(averages) - gradientRe.getDimension());
    }

    private double independent(double averages) {
        return Math.min(1, averages) * informationTotal * informationTotal / informationSquare;
    }

    @Nullable
    RealVector solve(RealVector right) {
        DecompositionSolver solver = new QRDecomposition(information, 1e-300).getSolver();
        if (!solver.isNonSingular()) {
            return null;
        }
        RealVector x = solver.solve(right);
        return x.isNaN() || x.isInfinite() ? null : x;
    }
}
