/**
 * The circuit behind a measured curve, stated and written as a SPICE subcircuit.
 *
 * <p>{@link ohmprint.app.circuit.FitCircuit} reads the curve, has {@link ohmprint.circuit.fit.CircuitFit} choose and fit
 * the circuit, and writes the netlist, whose comments carry the values. A curve that no circuit follows gets no file.
 *
 * <p>In use:
 *
 * <pre>{@code
 * CircuitOutcome outcome = FitCircuit.run(new CircuitRequest("session", null, folder));
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.circuit;
