/**
 * The input impedance of a preamplifier, measured as the source impedance of a microphone is, roles exchanged.
 *
 * <p>A generator drives the input through known resistors in series, {@code 1/V_k = (1/E)·(1 + (S_k + Z_g)·Y_in)}. By {@link
 * ohmprint.circuit.Dual} this is the equation of a source with loads, so routes, solver, uncertainty and findings are those
 * of a microphone's session. The result is read by any session as {@code input: {curve: …}}.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import ohmprint.app.Progress;
 * import ohmprint.app.measure.MeasureRequest;
 *
 * InputOutcome outcome = MeasureInput.run(MeasureRequest.of(folder), Progress.SILENT);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.input;
