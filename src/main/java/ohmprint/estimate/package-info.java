/**
 * From spectra of takes to a source impedance with its uncertainty.
 *
 * <p>Model: a source of open-circuit voltage V_oc and impedance Z drives, in take k, the admittance
 * {@code y_k = G_k + Y_in}. The take holds {@code D_k = A·g_k·e^(−jωτ_k)·h_k + n_k} with {@code h_k = 1/(1 + Z·y_k)}; A is
 * everything that all takes share (sound, room, microphone, preamplifier) and drops out; g_k ≈ 1 is a take gain, τ_k a
 * residual delay, n_k noise of variance σ_k².
 *
 * <p>What the solvers are given is, per frequency bin, the Hermitian matrix {@code S_kl = mean(D_k·D_l*)} with the noise
 * contained in it ({@link ohmprint.estimate.BinObservations}): the sufficient statistic of all coherent routes. With one
 * snapshot per bin it has rank one. The power route uses its diagonal alone.
 *
 * <p>Within a band, Z is a polynomial in {@code u = ln(f/f_m)}; {@code Z(f_m)} is the value reported. The maximum of the
 * likelihood with A eliminated bin by bin (variable projection; Golub and Pereyra, SIAM J. Numer. Anal. 10 (1973)
 * 413–432) is found by Gauss–Newton from a weighted linear start. What is common to all bands (gains, loads, input,
 * timing) enters as priors, propagated by the sensitivities of the estimate to each of them (JCGM 100:2008, 5.1).
 *
 * <p>This package knows nothing of files, manifests or screens.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.estimate;
