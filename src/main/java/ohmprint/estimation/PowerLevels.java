package ohmprint.estimation;

import java.util.Arrays;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.FrequencyBands;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/**
 * Relative levels of takes of different noise within one band.
 *
 * <p>Power of take k in bin i is {@code c_i·m_k} times a random factor; room and source are in c_i. The maximum of the
 * likelihood satisfies {@code c_i = mean_k(P_ki/m_k)}, {@code m_k = mean_i(P_ki/c_i)}, found by iteration.
 *
 * <p>A power that is the mean of μ independent ones has a gamma distribution of that shape; the shares {@code P_ki/(K·m_k·c_i)} of
 * the takes in a bin then have that of Dirichlet, whose variance tells μ by the scatter S of {@code P_ki/(c_i·m_k)} summed over
 * the takes, and the information of the likelihood about m_k with c_i eliminated is known in closed form:
 *
 * <pre>
 * S = K(K−1)/(Kμ+1),   μ = (K−1)/S − 1/K,   var ln m_k = (Kμ+1)/(K·μ²·n)
 * </pre>
 *
 * with n the number of independent bins. μ is 1 for random noise in one piece, more for several pieces, more still for a
 * generator's even spectrum. Notches of the room cost nothing, which a plain sum of powers would let them. Source: Whittle's
 * likelihood of power spectra; moments of the Dirichlet distribution (both from memory).
 *
 * @param logLevel ln m_k, mean zero over the takes
 * @param variance variance of each ln m_k from the randomness of the noise, before the mean is taken off
 */
record PowerLevels(double[] logLevel, double variance) {
    private static final int MAX_ROUNDS = 200;
    private static final double CONVERGED = 1e-10;
    private static final double LEAST_SHARE = 1e-6;
    /** Scatter over that of Gaussian noise below which it is no longer believed. */
    private static final double LEAST_SCATTER = 0.02;
    /** Takes that have no bin in common would have none. */
    private static final double LEAST_SHAPE = 1e-3;

    /**
     * Levels from the energy of the band as a whole, with a variance, that of {@link #byLikelihood}: a generator that makes
     * noise of an even spectrum repeats that energy far more closely than it repeats single bins.
     */
    static PowerLevels byEnergy(BinObservations obs, int from, int to, double variance) {
        int takes = obs.takes();
        double[] level = new double[takes];
        double mean = 0;
        for (int k = 0; k < takes; k++) {
            double sum = 0;
            for (int i = from; i < to; i++) {
                sum += power(obs, i, k);
            }
            level[k] = Math.log(sum);
            mean += level[k] / takes;
        }
        for (int k = 0; k < takes; k++) {
            level[k] -= mean;
        }
        return new PowerLevels(level, variance);
    }

    /** Levels from the bins {@code [from, to)}, noise taken off. */
    static PowerLevels byLikelihood(BinObservations obs, int from, int to) {
        int takes = obs.takes();
        double[] level = new double[takes];
        for (int round = 0; round < MAX_ROUNDS; round++) {
            double[] sum = new double[takes];
            for (int i = from; i < to; i++) {
                double c = 0;
                for (int k = 0; k < takes; k++) {
                    c += power(obs, i, k) * Math.exp(-level[k]) / takes;
                }
                for (int k = 0; k < takes; k++) {
                    sum[k] += power(obs, i, k) / c / (to - from);
                }
            }
            double mean = 0;
            for (double s : sum) {
                mean += Math.log(s) / takes;
            }
            double change = 0;
            for (int k = 0; k < takes; k++) {
                double next = Math.log(sum[k]) - mean;
                change = Math.max(change, Math.abs(next - level[k]));
                level[k] = next;
            }
            if (change < CONVERGED) {
                break;
            }
        }
        double gaussian = takes * (takes - 1.0) / (takes + 1.0);
        double s = Math.max(LEAST_SCATTER * gaussian, scatter(obs, from, to, level) / (to - from));
        double shape = Math.max(LEAST_SHAPE, (takes - 1.0) / s - 1.0 / takes);
        double independent = Math.min(1, obs.averages()) * (to - from);
        return new PowerLevels(level, (takes * shape + 1) / (takes * shape * shape * independent));
    }

    /** Sum over bins and takes of {@code (P_ki/(c_i·m_k) − 1)²}. */
    private static double scatter(BinObservations obs, int from, int to, double[] level) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            double c = 0;
            for (int k = 0; k < level.length; k++) {
                c += power(obs, i, k) * Math.exp(-level[k]) / level.length;
            }
            for (int k = 0; k < level.length; k++) {
                double x = power(obs, i, k) * Math.exp(-level[k]) / c - 1;
                sum += x * x;
            }
        }
        return sum;
    }

    /** Power of take {@code k} in bin {@code i} without its noise; a trace of it is always left. */
    private static double power(BinObservations obs, int i, int k) {
        return Math.max(obs.re(i, k, k) - obs.noise(i, k), LEAST_SHARE * obs.re(i, k, k));
    }

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
    record Scatter(double noiseScale, double noiseFreedom, double driftVariance, double driftFreedom) {
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
        static Scatter believed(Priors priors) {
            double drift = Math.pow(2 * priors.gain(), 2);
            return new Scatter(1, Double.POSITIVE_INFINITY, drift, priors.gainFreedom());
        }

        /**
         * What the bands show.
         *
         * @param levels of each band, null where it holds none
         * @param bands the grid
         * @param takes what each take drives
         * @param priors what is believed about the gains
         */
        static Scatter of(@Nullable PowerLevels[] levels, FrequencyBands bands, LoadedTakes takes, Priors priors) {
            Scatter believed = believed(priors);
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
            return new Scatter(
                            scale,
                            told ? freedom : Double.POSITIVE_INFINITY,
                            believed.driftVariance,
                            believed.driftFreedom)
                    .with(seen, spare);
        }

        private Scatter with(double seen, int spare) {
            double both = (WEIGHT * driftVariance + spare * seen) / (WEIGHT + spare);
            return both > driftVariance ? new Scatter(noiseScale, noiseFreedom, both, WEIGHT + spare) : this;
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
                RealMatrix q = new QRDecomposition(new Array2DRowRealMatrix(by))
                        .getQ()
                        .getSubMatrix(0, n - 1, PARAMETERS, n - 1);
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
}
