/**
 * The circuit behind a measured curve, stated and written as a SPICE subcircuit.
 *
 * <p>{@link ohmprint.app.circuit.FitCircuit} reads the curve, has {@link ohmprint.circuit.fit.CircuitFit} choose and fit
 * the circuit, and writes the netlist, whose comments carry the values. A curve that no circuit follows gets no file.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.circuit;
