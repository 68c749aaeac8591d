package ohmprint.estimate;

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
}
