package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * A moving-coil microphone: {@code Z = R + K·(jω)^n + Z_motional}.
 *
 * @param ohm resistance R of the coil in ohms, 0 or more
 * @param inductor inductance of the coil, with or without loss
 * @param motional image of the moving system in series, or null
 */
public record MovingCoil(
        double ohm, LossyInductor inductor, @Nullable Resonance motional) implements SourceModel {
    /** Checks the resistance. */
    public MovingCoil {
        Quantity.notNegative("coil resistance", ohm, "Ω");
    }

    @Override
    public Complex impedance(double hz) {
        Complex coil = inductor.impedance(hz).add(ohm);
        return motional == null ? coil : coil.add(motional.impedance(hz));
    }
}
