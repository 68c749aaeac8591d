package ohmprint.estimate;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.CauseOrigin;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * Independent causes of what the nuisances leave in a curve.
 *
 * <p>Of nuisances with the covariance P after a fit (in units of what was believed) the error is {@code P·θ}, θ ~ N(0, 1) being
 * the departures themselves, plus what the noise put into the fit, of covariance P − P². So each nuisance stays a cause of its
 * own name, moving Z by S·P instead of by S, and the noise adds a few causes that all bands share. Together they give
 * {@code S·(P² + P − P²)·Sᵀ = S·P·Sᵀ}. Without a fit P is the unit matrix and the nuisances are the causes.
 */
final class RemainingCauses {
    private static final double NEGLIGIBLE = 1e-10;

    private final List<String> names = new ArrayList<>();
    private final List<CauseOrigin> origins = new ArrayList<>();
    private final List<Boolean> tolerances = new ArrayList<>();
    /** Nuisances down, causes across. */
    private final double[][] mixture;

    /**
     * The causes that remain.
     *
     * @param nuisances the nuisances
     * @param takes the takes, for their names
     * @param covariance P, or null for the unit matrix
     */
    RemainingCauses(List<Nuisance> nuisances, LoadedTakes takes, @Nullable RealMatrix covariance) {
        int n = nuisances.size();
        List<double[]> columns = new ArrayList<>();
        for (int c = 0; c < n; c++) {
            names.add(nuisances.get(c).name(takes));
            origins.add(nuisances.get(c).origin());
            tolerances.add(nuisances.get(c).isTolerance(takes));
            columns.add(covariance == null ? unit(n, c) : covariance.getColumn(c));
        }
        if (covariance != null) {
            addNoise(covariance, columns);
        }
        mixture = new double[n][columns.size()];
        for (int c = 0; c < columns.size(); c++) {
            for (int a = 0; a < n; a++) {
                mixture[a][c] = columns.get(c)[a];
            }
        }
    }

    private static double[] unit(int size, int place) {
        double[] out = new double[size];
        out[place] = 1;
        return out;
    }

    private void addNoise(RealMatrix covariance, List<double[]> columns) {
        EigenDecomposition eigen = eigen(covariance);
        int count = 0;
        for (int e = 0; e < covariance.getRowDimension(); e++) {
            double left = eigen.getRealEigenvalue(e);
            double noise = left * (1 - left);
            if (noise > NEGLIGIBLE) {
                count++;
                names.add("noise in what all bands share, part " + count);
                origins.add(CauseOrigin.NOISE);
                tolerances.add(false);
                columns.add(
                        eigen.getEigenvector(e).mapMultiply(Math.sqrt(noise)).toArray());
            }
        }
    }

    /** Of a covariance; rounding must not make it look unsymmetric, for the general method need not come to an end. */
    static EigenDecomposition eigen(RealMatrix covariance) {
        return new EigenDecomposition(covariance.add(covariance.transpose()).scalarMultiply(0.5));
    }

    int size() {
        return names.size();
    }

    String name(int cause) {
        return names.get(cause);
    }

    CauseOrigin origin(int cause) {
        return origins.get(cause);
    }

    /** Whether the cause is distributed as a tolerance is, see {@link Nuisance#isTolerance}. */
    boolean isTolerance(int cause) {
        return tolerances.get(cause);
    }

    /** Sensitivities to the nuisances as sensitivities to the causes. */
    double[] of(double[] sensitivity) {
        double[] out = new double[size()];
        for (int a = 0; a < sensitivity.length; a++) {
            for (int c = 0; c < out.length; c++) {
                out[c] += sensitivity[a] * mixture[a][c];
            }
        }
        return out;
    }
}
