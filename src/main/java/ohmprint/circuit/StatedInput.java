package ohmprint.circuit;

import java.util.List;
import ohmprint.text.Numbers;
import org.apache.commons.math3.complex.Complex;

/**
 * An input given as R_in ∥ C_in: {@code Y_in = 1/R_in + jωC_in}.
 *
 * @param ohm R_in in ohms
 * @param tolerancePercent tolerance of R_in in percent
 * @param capacitancePf C_in in picofarads, 0 when there is none
 * @param capacitanceTolerancePercent tolerance of C_in in percent; kept as 0 when there is no C_in
 */
public record StatedInput(double ohm, double tolerancePercent, double capacitancePf, double capacitanceTolerancePercent)
        implements InputImpedance {
    /** Checks the ranges, see {@link InputImpedance#ofOhms(double, double, double, double)}. */
    public StatedInput {
        Quantity.resistance("input resistance", ohm);
        Quantity.tolerance("input resistance", tolerancePercent);
        Quantity.notNegative("input capacitance", capacitancePf, "pF");
        Quantity.tolerance("input capacitance", capacitanceTolerancePercent);
        capacitanceTolerancePercent = capacitancePf == 0 ? 0 : capacitanceTolerancePercent;
    }

    @Override
    public Complex admittance(double hz) {
        return new Complex(1 / ohm, Quantity.susceptance(hz, capacitancePf));
    }

    /** Relative standard uncertainty of R_in, the standard deviation of ln R_in: tolerance/√3. */
    public double resistanceRelativeStandardUncertainty() {
        return Quantity.rectangular(tolerancePercent);
    }

    /** Relative standard uncertainty of C_in, the standard deviation of ln C_in: tolerance/√3. */
    public double capacitanceRelativeStandardUncertainty() {
        return Quantity.rectangular(capacitanceTolerancePercent);
    }

    /** Two influences: {@code −u(ln R_in)/R_in} and {@code jωC_in·u(ln C_in)}. */
    @Override
    public List<Complex> standardEffects(double hz) {
        return List.of(
                new Complex(-resistanceRelativeStandardUncertainty() / ohm, 0),
                new Complex(0, Quantity.susceptance(hz, capacitancePf) * capacitanceRelativeStandardUncertainty()));
    }

    @Override
    public List<String> influences() {
        return List.of("resistance of the input", "capacitance of the input");
    }

    @Override
    public String label() {
        String resistance = Numbers.brief(ohm) + " Ω ± " + Numbers.brief(tolerancePercent) + " %";
        return capacitancePf == 0 ? resistance : resistance + " ∥ " + Numbers.brief(capacitancePf) + " pF";
    }
}
