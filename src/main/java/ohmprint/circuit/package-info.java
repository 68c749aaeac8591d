/**
 * The microphone, the load and the recording input as an electrical circuit.
 *
 * <p>The microphone is a Thévenin source: an open-circuit voltage behind a source impedance {@code Z(f) = R + jX}. A load
 * resistor and the recording input with its cable lie in parallel across it, so with the admittance
 *
 * <pre>{@code y_k(f) = G_k + Y_in(f),   G_k = 1/R_k (0 when open),   Y_in = 1/R_in + jωC_in or a measured Y_in(f)}</pre>
 *
 * the voltage is {@code V_k = V_oc·h_k} with {@code h_k = 1/(1 + Z·y_k)} ({@link ohmprint.circuit.Divider}).
 *
 * <p>{@link ohmprint.circuit.Load} is one load resistor or none, {@link ohmprint.circuit.InputImpedance} the recording
 * input; both carry their standard uncertainties. The {@link ohmprint.circuit.SourceModel}s give Z(f) of usual
 * microphones from the values of their parts.
 *
 * <p>What follows from a measured curve: {@link ohmprint.circuit.SourceCurve} is the curve within a range, {@link
 * ohmprint.circuit.LoadedCurve} what a load takes from it, {@link ohmprint.circuit.LeastLoad} the least load that keeps a
 * limit, {@link ohmprint.circuit.LoadedNoise} the noise at an input. Uncertainties are propagated to first order from all
 * bands and the load together, so that differences are not wider than they are. Nothing is predicted where the curve says
 * nothing.
 *
 * <p>Convention: time dependence e<sup>+jωt</sup>, ω = 2πf, frequencies in hertz, SI units unless a name says otherwise.
 * A tolerance is the half-width of a rectangular distribution: its standard uncertainty is the tolerance divided by √3
 * (JCGM 100:2008, 4.3.7).
 *
 * <p>This package knows nothing of recordings, takes, files or solvers.
 *
 * <p>In use:
 *
 * <pre>{@code
 * InputImpedance input = InputImpedance.ofOhms(1500, 5).withCable(10, 100, 20);
 * LoadedCurve loaded = LoadedCurve.of(SourceCurve.of(curve, 20, 20_000), input);
 * double worstDb = loaded.worstLoss().value();
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.circuit;
