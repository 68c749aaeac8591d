/**
 * From spectra of takes to a source impedance with its uncertainty.
 *
 * <p>Model: a source of open-circuit voltage V_oc and impedance Z drives, in take k, the admittance
 * {@code y_k = G_k + Y_in}. The take holds {@code D_k = A·g_k·e^(−jωτ_k)·h_k + n_k} with {@code h_k = 1/(1 + Z·y_k)}; A is
 * everything that all takes share (sound, room, microphone, preamplifier) and drops out; g_k ≈ 1 is a take gain, τ_k a
 * residual delay, n_k noise of variance σ_k².
 *
 * <p>What the solvers are given is, per frequency bin, the Hermitian matrix {@code S_kl = mean(D_k·D_l*)} with the noise
 * contained in it ({@link ohmprint.estimation.BinObservations}): the sufficient statistic of all coherent routes. With one
 * snapshot per bin it has rank one. The power route uses its diagonal alone.
 *
 * <p>Within a band, Z is a polynomial in {@code u = ln(f/f_m)}; {@code Z(f_m)} is the value reported. The maximum of the
 * likelihood with A eliminated bin by bin (variable projection; Golub and Pereyra, SIAM J. Numer. Anal. 10 (1973)
 * 413–432) is found by Gauss–Newton from a weighted linear start. What is common to all bands (gains, loads, input,
 * timing) enters as priors, propagated by the sensitivities of the estimate to each of them (JCGM 100:2008, 5.1).
 *
 * <p>This package knows nothing of files, manifests or screens.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.util.List;
 * import ohmprint.circuit.InputImpedance;
 * import ohmprint.circuit.Load;
 * import ohmprint.impedance.FrequencyBands;
 *
 * // two takes, one bin at 1 kHz: 150 Ω halves what the open input gets, so that Z is 150 Ω
 * BinObservations bins = new BinObservations(2, new double[] {1000}, 1);
 * bins.setSnapshot(0, new double[] {0.5, 1}, new double[] {0, 0});
 * bins.setNoise(0, 0, 1e-6);
 * bins.setNoise(0, 1, 1e-6);
 * LoadedTakes takes = new LoadedTakes(List.of(Load.ofOhms(150, 1), Load.open()), InputImpedance.ofOhms(1e9, 0));
 * CurveEstimate estimate = new CoherentSolver(FrequencyBands.within(3, 900, 1100), new Priors(0.001, 1e-6)).solve(bins, takes);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.estimation;
