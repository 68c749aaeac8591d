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
     * Scores of independent bins have variance equal to their information: {@code Σ|∂C/∂Z*|²∕ΣF}, corrected for the
     * terms that the fit has set to zero.
     */
    double scoreScale(double averages) {
        double effective = informationTotal * informationTotal / informationSquare;
        return averages * score / informationTotal * effective / Math.max(0.5, effective - gradientRe.getDimension());
    }

    /** Effective number of bins less the terms of the fit. */
    double scoreFreedom() {
        double effective = informationTotal * informationTotal / informationSquare;
        return Math.max(0, effective - gradientRe.getDimension());
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
