package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The impedance of a source as a function of frequency, from the values of its parts; the nested ones are those of usual
 * microphones and what they are made of.
 */
@FunctionalInterface
public interface SourceModel {
    /**
     * Z(f) = R + jX in ohms.
     *
     * @param hz frequency in hertz, positive
     */
    Complex impedance(double hz);

    /**
     * An active output behind coupling capacitors: {@code Z = R + 1/(jωC)}.
     *
     * @param ohm output resistance R in ohms, 0 or more
     * @param farads coupling capacitance C in farads, positive; of two in series, one per leg, their series value
     */
    record CapacitorCoupled(double ohm, double farads) implements SourceModel {
        /** Checks the ranges. */
        public CapacitorCoupled {
            Quantity.notNegative("output resistance", ohm, "Ω");
            Quantity.positive("coupling capacitance", farads, "F");
        }

        @Override
        public Complex impedance(double hz) {
            return new Complex(ohm, -1 / (2 * Math.PI * hz * farads));
        }
    }

    /**
     * A voice coil's inductance with eddy-current loss: {@code Z = K·ω^n·(cos(nπ/2) + j·sin(nπ/2)) = K·(jω)^n}.
     *
     * <p>With n = 1 it is an ideal inductor of K henries, with n = 0 a resistor of K ohms. Source: W. M. Leach, "Loudspeaker
     * voice-coil inductance losses", J. Audio Eng. Soc. 50(6), 2002.
     *
     * @param coefficient K in Ω·(s/rad)^n, 0 or more
     * @param exponent n, from 0 to 1
     */
    record LossyInductor(double coefficient, double exponent) implements SourceModel {
        /** Checks the ranges. */
        public LossyInductor {
            Quantity.notNegative("inductor coefficient", coefficient, "Ω·(s/rad)^n");
            if (!(exponent >= 0 && exponent <= 1)) {
                throw new IllegalArgumentException(
                        "an inductor exponent of " + exponent + " is not possible; give 0 (resistor) to 1 (inductor)");
            }
        }

        /** An inductor without loss, in henries. */
        public static LossyInductor ofHenries(double henries) {
            return new LossyInductor(Quantity.notNegative("inductance", henries, "H"), 1);
        }

        @Override
        public Complex impedance(double hz) {
            double modulus = coefficient * Math.pow(2 * Math.PI * hz, exponent);
            double angle = exponent * Math.PI / 2;
            // The cosine of the double nearest π/2 is not 0; an ideal inductor must not gain a resistance by it.
            double real = exponent == 1 ? 0 : modulus * Math.cos(angle);
            return new Complex(real, modulus * Math.sin(angle));
        }
    }

    /**
     * A moving-coil microphone: {@code Z = R + K·(jω)^n + Z_motional}.
     *
     * @param ohm resistance R of the coil in ohms, 0 or more
     * @param inductor inductance of the coil, with or without loss
     * @param motional image of the moving system in series, or null
     */
    record MovingCoil(
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

    /**
     * A parallel R-L-C: the electrical image of a moving system with one resonance,
     * {@code 1/Z = 1/R + 1/(jωL) + jωC}.
     *
     * @param ohm R in ohms, positive: the height of the peak
     * @param henries L in henries, positive
     * @param farads C in farads, positive
     */
    record Resonance(double ohm, double henries, double farads) implements SourceModel {
        /** Checks the ranges. */
        public Resonance {
            Quantity.resistance("motional resistance", ohm);
            Quantity.positive("motional inductance", henries, "H");
            Quantity.positive("motional capacitance", farads, "F");
        }

        /**
         * The same by its peak.
         *
         * @param ohm height of the peak in ohms, positive
         * @param hz resonance frequency in hertz, positive
         * @param q quality factor R·√(C/L), positive
         */
        public static Resonance ofPeak(double ohm, double hz, double q) {
            double omega = 2 * Math.PI * Quantity.positive("resonance frequency", hz, "Hz");
            Quantity.positive("quality factor", q, "(no unit)");
            return new Resonance(ohm, ohm / (omega * q), q / (omega * ohm));
        }

        @Override
        public Complex impedance(double hz) {
            double omega = 2 * Math.PI * hz;
            return new Complex(1 / ohm, omega * farads - 1 / (omega * henries)).reciprocal();
        }
    }

    /**
     * A ribbon and its output transformer, seen from the secondary.
     *
     * <p>Two coupled inductors, {@code M = k·√(L₁L₂)}, the primary closed by the ribbon:
     *
     * <pre>{@code
     * Z_out = jωL₂ + ω²M²/(jωL₁ + r + Z_motional)
     * Z     = (Z_out + R_s + jωL_s) ∥ 1/(jωC_w)
     * }</pre>
     *
     * <p>In the middle of the band this is near {@code n²·r + R_s} with the turns ratio {@code n = √(L₂/L₁)}.
     *
     * @param primaryHenries L₁ in henries, positive
     * @param secondaryHenries L₂ in henries, positive
     * @param coupling k, above 0, at most 1
     * @param ribbonOhm r of the ribbon and the primary winding in ohms, positive
     * @param seriesOhm R_s of the secondary winding in ohms, 0 or more
     * @param seriesHenries L_s in series with the secondary in henries, 0 or more
     * @param windingFarads C_w across the output in farads, 0 when left out
     * @param motional image of the moving ribbon at the primary, in series with r, or null
     */
    record RibbonTransformer(
            double primaryHenries,
            double secondaryHenries,
            double coupling,
            double ribbonOhm,
            double seriesOhm,
            double seriesHenries,
            double windingFarads,
            @Nullable Resonance motional)
            implements SourceModel {
        /** Checks the ranges. */
        public RibbonTransformer {
            Quantity.positive("primary inductance", primaryHenries, "H");
            Quantity.positive("secondary inductance", secondaryHenries, "H");
            if (!(coupling > 0 && coupling <= 1)) {
                throw new IllegalArgumentException(
                        "a coupling of " + coupling + " is not possible; give a factor above 0, at most 1");
            }
            Quantity.resistance("ribbon resistance", ribbonOhm);
            Quantity.notNegative("secondary resistance", seriesOhm, "Ω");
            Quantity.notNegative("secondary series inductance", seriesHenries, "H");
            Quantity.notNegative("winding capacitance", windingFarads, "F");
        }

        @Override
        public Complex impedance(double hz) {
            double omega = 2 * Math.PI * hz;
            double mutual = coupling * Math.sqrt(primaryHenries * secondaryHenries);
            Complex primary = new Complex(ribbonOhm, omega * primaryHenries);
            if (motional != null) {
                primary = primary.add(motional.impedance(hz));
            }
            Complex winding = primary.reciprocal()
                    .multiply(omega * omega * mutual * mutual)
                    .add(new Complex(seriesOhm, omega * (secondaryHenries + seriesHenries)));
            return winding.reciprocal()
                    .add(new Complex(0, omega * windingFarads))
                    .reciprocal();
        }
    }
}
