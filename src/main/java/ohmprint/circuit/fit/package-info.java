/**
 * The electrical circuit behind a measured impedance: which parts, of which values, known how well.
 *
 * <p>A {@link ohmprint.circuit.fit.Part} is a network of two pins whose values are fitted. {@link
 * ohmprint.circuit.fit.Candidates} builds the circuits that microphones have (s = jω):
 *
 * <ul>
 *   <li>moving coil: {@code R + inductor + resonances}, the inductor being {@code s·L}, {@code K·s^n}, or one or two
 *       {@code s·L ∥ R}; a resonance is {@code Z = R/(1 + jQ(f/f₀ − f₀/f))}, a parallel R-L-C
 *   <li>ribbon with transformer, all values seen from the output:
 *       {@code R_w + s·L_leakage + [s·L_m ∥ (r + resonance)]}. With turns ratio n and coupling k,
 *       {@code L_m = k²L₂}, {@code r = k²n²·r_ribbon}, {@code L_leakage = (1 − k²)L₂ + L_s}: n itself cannot be seen
 *   <li>active output behind capacitors: {@code R + 1/(sC) + s·L}
 *   <li>what every family looks like when it shows nothing of its own: {@code R}, {@code R + s·L}
 * </ul>
 *
 * each with or without a capacitance across the output.
 *
 * <p>{@link ohmprint.circuit.fit.CircuitFit} fits each to the complex values of a curve by weighted least squares
 * (Levenberg–Marquardt, values as logarithms), from starts that the curve suggests. The noise of each band weighs its
 * residual; what is common to all bands (loads, drift, input) does not weigh, but moves all values together in the
 * uncertainty. Circuits are compared by the corrected Akaike criterion with the variance of the best fit,
 *
 * <pre>{@code χ²/ĉ + 2k + 2k(k+1)/(N − k − 1),   ĉ = max(1, least χ²/(N − k))}</pre>
 *
 * <p>and a resonance or a second bridged inductor has to improve it by 10 more, since chance may place one at any
 * frequency. A resonance above the curve does not count. Of the circuits within 4 of the best the one of
 * fewest values is taken. A value's variance is the largest that any of the circuits
 * of the family within 4 of the chosen one gives it, with the square of the difference between their values: two parts
 * that stand in for each other are told with an interval that says so. A value is not determined when its 95 % interval is
 * wider than itself, when a circuit without it is less than 10 worse, or when its resonance lies outside the curve. Source: K. P. Burnham and
 * D. R. Anderson, Model Selection and Multimodel Inference, 2nd ed. 2002, 2.4, 2.5 and 4.3 (from memory).
 *
 * <p>{@link ohmprint.circuit.fit.KramersKronig} asks before that whether a curve can be an impedance at all, whatever the circuit.
 *
 * <p>{@link ohmprint.circuit.fit.SpiceSubcircuit} writes a circuit as a netlist of ordinary parts.
 *
 * <p>In use:
 *
 * <pre>{@code
 * FittedCircuit circuit = CircuitFit.of(curve, "moving-coil", null);
 * double ohm = circuit.dcResistance().value();
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.circuit.fit;
