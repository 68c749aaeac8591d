package ohmprint.circuit;

import java.util.List;
import ohmprint.text.Numbers;
import org.apache.commons.math3.complex.Complex;

/**
 * An input whose resistance is not known. The resistance counts as part of the source: the result is
 * {@code Z ∥ R_in}, for which no uncertainty of R_in remains. A capacitance that is known, such as that of the cable, can
 * still be taken off: {@code Y_in = jωC_in}.
 *
 * @param capacitancePf C_in in picofarads, 0 when that is not known either
 * @param capacitanceTolerancePercent tolerance of C_in in percent; kept as 0 when there is no C_in
 */
public record UnknownInput(double capacitancePf, double capacitanceTolerancePercent) implements InputImpedance {
    /** Checks the ranges. */
    public UnknownInput {
        Quantity.notNegative("input capacitance", capacitancePf, "pF");
        Quantity.tolerance("input capacitance", capacitanceTolerancePercent);
        capacitanceTolerancePercent = capacitancePf == 0 ? 0 : capacitanceTolerancePercent;
    }

    @Override
    public Complex admittance(double hz) {
        return new Complex(0, Quantity.susceptance(hz, capacitancePf));
    }

    @Override
    public boolean isKnown() {
        return false;
    }

    /** No influence, or that of a known capacitance: {@code jωC_in·u(ln C_in)}. */
    @Override
    public List<Complex> standardEffects(double hz) {
        return capacitancePf == 0
                ? List.of()
                : List.of(new Complex(
                        0,
                        Quantity.susceptance(hz, capacitancePf) * Quantity.rectangular(capacitanceTolerancePercent)));
    }

    @Override
    public List<String> influences() {
        return capacitancePf == 0 ? List.of() : List.of("capacitance of the input");
    }

    @Override
    public String label() {
        return capacitancePf == 0 ? "unknown" : "unknown ∥ " + Numbers.brief(capacitancePf) + " pF";
    }
}
