package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import ohmprint.text.Numbers;
import org.apache.commons.math3.complex.Complex;

/** An input with something more across it: {@code Y = Y_bare + Y_added}, whose one influence comes last and is a tolerance. */
public sealed interface AddedInput extends InputImpedance {
    /** The input without it. */
    InputImpedance bare();

    /** What is added, in siemens. */
    Complex added(double hz);

    /** What one standard uncertainty of it changes, in siemens. */
    Complex addedEffect(double hz);

    /** What is uncertain about it, in words. */
    String addedInfluence();

    @Override
    default Complex admittance(double hz) {
        return bare().admittance(hz).add(added(hz));
    }

    @Override
    default boolean isKnown() {
        return bare().isKnown();
    }

    /** The influences of the bare input, then that of what is added. */
    @Override
    default List<Complex> standardEffects(double hz) {
        List<Complex> effects = new ArrayList<>(bare().standardEffects(hz));
        effects.add(addedEffect(hz));
        return List.copyOf(effects);
    }

    @Override
    default List<String> influences() {
        List<String> names = new ArrayList<>(bare().influences());
        names.add(addedInfluence());
        return List.copyOf(names);
    }

    @Override
    default boolean isTolerance(int influence) {
        return influence >= bare().influences().size() || bare().isTolerance(influence);
    }

    @Override
    default double lowestHz() {
        return bare().lowestHz();
    }

    @Override
    default double highestHz() {
        return bare().highestHz();
    }

    /**
     * An input behind a cable, which at these frequencies is a capacitance across it: {@code Y = Y_bare + jωC'·l}.
     *
     * @param bare the input without this cable
     * @param metres length l of the cable, 0 or more
     * @param pfPerMetre capacitance C' between its conductors in picofarads per metre, 0 or more
     * @param tolerancePercent tolerance of C' in percent
     */
    record CabledInput(InputImpedance bare, double metres, double pfPerMetre, double tolerancePercent)
            implements AddedInput {
        /** Checks the ranges. */
        public CabledInput {
            Quantity.notNegative("cable length", metres, "m");
            Quantity.notNegative("cable capacitance", pfPerMetre, "pF/m");
            Quantity.tolerance("cable capacitance", tolerancePercent);
        }

        /** Capacitance of the whole cable in picofarads. */
        public double capacitancePf() {
            return metres * pfPerMetre;
        }

        @Override
        public Complex added(double hz) {
            return new Complex(0, Quantity.susceptance(hz, capacitancePf()));
        }

        @Override
        public Complex addedEffect(double hz) {
            return new Complex(0, Quantity.susceptance(hz, capacitancePf()) * Quantity.rectangular(tolerancePercent));
        }

        @Override
        public String addedInfluence() {
            return "capacitance of the cable";
        }

        @Override
        public String label() {
            return bare.label() + " ∥ cable " + Numbers.brief(metres) + " m, " + Numbers.brief(capacitancePf()) + " pF";
        }
    }

    /**
     * An input with phantom feed resistors that its stated impedance does not contain: {@code Y = Y_bare + 1/13.62 kΩ}.
     *
     * @param bare the input without the feed resistors; known, and not fed already
     */
    record PhantomFedInput(InputImpedance bare) implements AddedInput {
        /** One feed resistor in ohms; there is one from each signal pin to the supply. */
        public static final double FEED_OHM = 6810;

        /** The two feed resistors in series across the line, in ohms. */
        public static final double ACROSS_LINE_OHM = 2 * FEED_OHM;

        /** Tolerance of the feed resistors in percent (common practice, no source). */
        public static final double TOLERANCE_PERCENT = 1;

        /** Refuses an unknown input and one that has its feeds. */
        public PhantomFedInput {
            if (!bare.isKnown() || bare instanceof PhantomFedInput) {
                throw new IllegalArgumentException("phantom feed resistors cannot be added to an input of "
                        + bare.label() + "; add them once, to a known input");
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
            return bare.label() + " ∥ phantom feeds " + Numbers.brief(ACROSS_LINE_OHM) + " Ω";
        }

        @Override
        public InputImpedance withPhantomFeeds() {
            return this;
        }
    }
}
