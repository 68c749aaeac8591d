package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

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
public record RibbonTransformer(
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

    /** The turns ratio n = √(L₂/L₁). */
    public double turnsRatio() {
        return Math.sqrt(secondaryHenries / primaryHenries);
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
        return winding.reciprocal().add(new Complex(0, omega * windingFarads)).reciprocal();
    }
}
