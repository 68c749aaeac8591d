package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * An input with phantom feed resistors that its stated impedance does not contain: {@code Y = Y_bare + 1/13.62 kΩ}.
 *
 * @param bare the input without the feed resistors; known, and not fed already
 */
public record PhantomFedInput(InputImpedance bare) implements InputImpedance {
    /** One feed resistor in ohms; there is one from each signal pin to the supply. */
    public static final double FEED_OHM = 6810;

    /** The two feed resistors in series across the line, in ohms. */
    public static final double ACROSS_LINE_OHM = 2 * FEED_OHM;

    /** Tolerance of the feed resistors in percent (common practice, no source). */
    public static final double TOLERANCE_PERCENT = 1;

    /** Refuses an unknown input and one that has its feeds. */
    public PhantomFedInput {
        if (!bare.isKnown() || bare instanceof PhantomFedInput) {
            throw new IllegalArgumentException("phantom feed resistors cannot be added to an input of " + bare.label()
                    + "; add them once, to a known input");
        }
    }

    @Override
    public Complex admittance(double hz) {
        return bare.admittance(hz).add(1 / ACROSS_LINE_OHM);
    }

    @Override
    public boolean isKnown() {
        return true;
    }

    /** The influences of the bare input, then that of the feed resistors. */
    @Override
    public List<Complex> standardEffects(double hz) {
        List<Complex> effects = new ArrayList<>(bare.standardEffects(hz));
        effects.add(new Complex(-Quantity.rectangular(TOLERANCE_PERCENT) / ACROSS_LINE_OHM, 0));
        return List.copyOf(effects);
    }

    @Override
    public List<String> influences() {
        List<String> names = new ArrayList<>(bare.influences());
        names.add("phantom feed resistors");
        return List.copyOf(names);
    }

    @Override
    public boolean isTolerance(int influence) {
        return influence >= bare.influences().size() || bare.isTolerance(influence);
    }

    @Override
    public double lowestHz() {
        return bare.lowestHz();
    }

    @Override
    public double highestHz() {
        return bare.highestHz();
    }

    @Override
    public String label() {
        return bare.label() + " ∥ phantom feeds " + Quantity.text(ACROSS_LINE_OHM) + " Ω";
    }

    @Override
    public InputImpedance withPhantomFeeds() {
        return this;
    }
}
