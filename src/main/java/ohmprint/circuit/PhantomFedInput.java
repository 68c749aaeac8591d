package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/**
 * An input with phantom feed resistors that its stated impedance does not contain: {@code Y = Y_bare + 1/13.62 kΩ}.
 *
 * @param bare the input without the feed resistors; known, and not fed already
 */
public record PhantomFedInput(InputImpedance bare) implements AddedInput {
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
    public Complex added(double hz) {
        return new Complex(1 / ACROSS_LINE_OHM, 0);
    }

    @Override
    public Complex addedEffect(double hz) {
        return new Complex(-Quantity.rectangular(TOLERANCE_PERCENT) / ACROSS_LINE_OHM, 0);
    }

    @Override
    public String addedInfluence() {
        return "phantom feed resistors";
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
