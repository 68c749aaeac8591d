package ohmprint.estimate;

import java.util.Arrays;
import ohmprint.curve.BandBudget;
import ohmprint.curve.FrequencyBands;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/**
 * How far the levels of the power route scatter: from band to band, which is noise, and in all bands alike, which is drift.
 *
 * <p>With K takes a band leaves K − 3 numbers over, its levels less what a common level, R and |Z| explain: {@code e_b = P_b·ρ_b}
 * with ρ the misfit of the best fit and P the projection across the derivatives by these three. Noise is drawn anew in each
 * band; the gain of a take is one draw for all of them, {@code e_b = P_b·γ + noise}. With v the noise variance that the bins of a
 * band tell,
 *
 * <pre>
 * A = Σ P_b/v_b,   c = Σ e_b/v_b,   γ = A⁺·c
 * noise scale = (Σ |e_b|²/v_b − c·γ)/(B(K − 3) − rank A)
 * drift seen  = (c·γ − rank A·noise scale)/tr A             mean square of a level, on K − 3 degrees of freedom
 * </pre>
 *
 * A generator of an even spectrum has a noise scale below 1. What is believed about the gains is never made smaller by the few
 * draws that are seen of them. Where they show more, belief and sight count together as in the posterior of a variance, the belief
 * as ν₀ = 3 observations, {@code (ν₀·believed + (K−3)·seen)/(ν₀ + K − 3)}, on as many degrees of freedom. Source: A. Gelman et al.,
 * Bayesian Data Analysis, 3rd ed., 2.6 (from memory).
 *
 * @param noiseScale observed over stated variance of the noise; 1 where too few bands tell it
 * @param noiseFreedom degrees of freedom of that; infinite where it is not taken from the bands
 * @param driftVariance variance of the level (ln of power) of each take by drift
 * @param driftFreedom degrees of freedom of that
 */
record PowerScatter(double noiseScale, double noiseFreedom, double driftVariance, double driftFreedom) {
    /** Unknowns of a band: its level, R and |Z|. */
    private static final int PARAMETERS = 3;
    /** Degrees of freedom from which the scatter between bands is believed. */
    private static final int POOLED_FREEDOM = 12;

    private static final double LEAST_SCALE = 0.02;
    /** Observations that a belief counts as. */
    private static final double WEIGHT = 3;
    /** Share of the largest eigenvalue below which the takes tell nothing of a combination of gains. */
    private static final double SINGULAR = 1e-9;

    /** What is believed, without a look at the takes. */
    static PowerScatter believed(Priors priors) {
        double drift = Math.pow(2 * priors.gain(), 2);
        return new PowerScatter(1, Double.POSITIVE_INFINITY, drift, priors.gainFreedom());
    }

    /**
     * What the bands show.
     *
     * @param levels of each band, null where it holds none
     * @param bands the grid
     * @param takes what each take drives
     * @param priors what is believed about the gains
     */
    static PowerScatter of(@Nullable PowerLevels[] levels, FrequencyBands bands, LoadedTakes takes, Priors priors) {
        PowerScatter believed = believed(priors);
        int spare = takes.size() - PARAMETERS;
        if (spare < 1) {
            return believed;
        }
        RealMatrix information = new Array2DRowRealMatrix(takes.size(), takes.size());
        RealVector drive = new ArrayRealVector(takes.size());
        double total = 0;
        int count = 0;
        for (int b = 0; b < levels.length; b++) {
            PowerLevels level = levels[b];
            if (level != null) {
                Rest rest = Rest.of(level, bands.midband(b), takes);
                RealVector e = rest.across().operate(rest.misfit());
                information = information.add(rest.across().scalarMultiply(1 / level.variance()));
                drive = drive.add(e.mapDivide(level.variance()));
                total += e.dotProduct(e) / level.variance();
                count += spare;
            }
        }
        double explained = 0;
        int rank = 0;
        EigenDecomposition eigen = new EigenDecomposition(information);
        for (int i = 0; i < takes.size(); i++) {
            double value = eigen.getRealEigenvalue(i);
            if (value > SINGULAR * information.getTrace()) {
                rank++;
                explained += Math.pow(eigen.getEigenvector(i).dotProduct(drive), 2) / value;
            }
        }
        double freedom = count - rank;
        boolean told = freedom >= POOLED_FREEDOM;
        double scale = told ? Math.max(LEAST_SCALE, (total - explained) / freedom) : 1;
        double seen = rank == 0 ? 0 : Math.max(0, (explained - rank * scale) / information.getTrace());
        return new PowerScatter(
                        scale, told ? freedom : Double.POSITIVE_INFINITY, believed.driftVariance, believed.driftFreedom)
                .with(seen, spare);
    }

    private PowerScatter with(double seen, int spare) {
        double both = (WEIGHT * driftVariance + spare * seen) / (WEIGHT + spare);
        return both > driftVariance ? new PowerScatter(noiseScale, noiseFreedom, both, WEIGHT + spare) : this;
    }

    /** Degrees of freedom of a combined uncertainty, at least 1. Source: JCGM 100:2008, G.4.1. */
    double freedom(BandBudget budget) {
        double spread = Math.pow(budget.noise(), 4) / noiseFreedom + Math.pow(budget.drift(), 4) / driftFreedom;
        return spread > 0 ? Math.max(1, Math.pow(budget.combined(), 4) / spread) : Double.POSITIVE_INFINITY;
    }

    /** Misfit of the levels of a band, and the projection across what a level, R and |Z| do to them. */
    private record Rest(RealVector misfit, RealMatrix across) {
        static Rest of(PowerLevels level, double hz, LoadedTakes takes) {
            int n = takes.size();
            double[] yRe = new double[n];
            double[] yIm = new double[n];
            takes.admittances(hz, yRe, yIm);
            double[] variance = new double[n];
            Arrays.fill(variance, level.variance());
            PassiveProfile best = PassiveProfile.of(level.logLevel(), variance, yRe, yIm, CoverageFactor.NORMAL);
            double r = best.resistanceOhm();
            double z2 = best.magnitudeOhm() * best.magnitudeOhm();
            double[][] by = new double[n][PARAMETERS];
            double x = Math.sqrt(Math.max(0, z2 - r * r));
            double[] plus = misfit(level.logLevel(), r, x, yRe, yIm);
            double[] minus = misfit(level.logLevel(), r, -x, yRe, yIm);
            double[] misfit = squares(plus) < squares(minus) ? plus : minus;
            for (int k = 0; k < n; k++) {
                double y2 = yRe[k] * yRe[k] + yIm[k] * yIm[k];
                double power = 1 + 2 * r * yRe[k] + z2 * y2;
                // Each column in a unit of its own, so that none is lost beside the others.
                by[k][0] = 1;
                by[k][1] = 2 * best.magnitudeOhm() * yRe[k] / power;
                by[k][2] = z2 * y2 / power;
            }
            RealMatrix q =
                    new QRDecomposition(new Array2DRowRealMatrix(by)).getQ().getSubMatrix(0, n - 1, PARAMETERS, n - 1);
            return new Rest(new ArrayRealVector(misfit), q.multiply(q.transpose()));
        }

        /** Levels less those of Z = R + jX, their mean taken off. */
        private static double[] misfit(double[] logLevel, double r, double x, double[] yRe, double[] yIm) {
            double[] rest = new double[logLevel.length];
            for (int k = 0; k < rest.length; k++) {
                double re = 1 + r * yRe[k] - x * yIm[k];
                double im = r * yIm[k] + x * yRe[k];
                rest[k] = logLevel[k] + Math.log(re * re + im * im);
            }
            double mean = Arrays.stream(rest).average().orElse(0);
            return Arrays.stream(rest).map(v -> v - mean).toArray();
        }

        private static double squares(double[] values) {
            return Arrays.stream(values).map(v -> v * v).sum();
        }
    }
}
