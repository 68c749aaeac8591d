package ohmprint.conformity;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.impedance.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * Within which limits an output impedance has to lie.
 *
 * @param name what it is called
 * @param notes text for the reader, or null
 * @param appliesTo the microphones it is meant for
 * @param rated |Z| at one frequency, or null
 * @param mask limits on |Z| in frequency ranges, perhaps none
 * @param resonance window for the frequency of the greatest |Z|, or null
 * @param reference a curve with limits to both sides, or null
 */
public record Specification(
        String name,
        @Nullable String notes,
        AppliesTo appliesTo,
        @Nullable RatedImpedance rated,
        List<MaskRange> mask,
        @Nullable ResonanceWindow resonance,
        @Nullable ReferenceCurve reference) {
    /**
     * Copies the mask.
     *
     * @throws IllegalArgumentException if nothing at all is required
     */
    public Specification {
        mask = List.copyOf(mask);
        if (rated == null && mask.isEmpty() && resonance == null && reference == null) {
            throw new IllegalArgumentException(
                    "the specification requires nothing; give a rated impedance, a mask, a resonance or a reference");
        }
    }

    /** How many requirements there are, the ranges of the mask together counting as one. */
    public int requirements() {
        return (rated == null ? 0 : 1)
                + (mask.isEmpty() ? 0 : 1)
                + (resonance == null ? 0 : 1)
                + (reference == null ? 0 : 1);
    }

    /**
     * The microphones that a specification is meant for; null means any.
     *
     * @param maker maker
     * @param model model
     * @param transducer principle, as in {@link Microphone}
     */
    public record AppliesTo(
            @Nullable String maker,
            @Nullable String model,
            @Nullable String transducer) {
        /** Any microphone. */
        public static final AppliesTo ALL = new AppliesTo(null, null, null);

        /** In which respects a microphone is another one, a phrase each; none when it is meant. Case does not count. */
        public List<String> differences(Microphone microphone) {
            List<String> out = new ArrayList<>();
            add(out, "maker", maker, microphone.maker());
            add(out, "model", model, microphone.model());
            add(out, "transducer", transducer, microphone.transducer());
            return out;
        }

        private static void add(List<String> out, String what, @Nullable String wanted, @Nullable String given) {
            if (wanted == null || (given != null && same(wanted, given))) {
                return;
            }
            out.add(what + " " + wanted + ", not " + (given == null ? "stated" : given));
        }

        private static boolean same(String a, String b) {
            return a.strip().toLowerCase(Locale.ROOT).equals(b.strip().toLowerCase(Locale.ROOT));
        }
    }

    /**
     * |Z| at one frequency.
     *
     * @param ohm rated impedance in ohms
     * @param tolerancePercent tolerance to both sides in percent
     * @param atHz frequency in hertz
     */
    public record RatedImpedance(double ohm, double tolerancePercent, double atHz) {
        /** Where an impedance is rated unless something else is said, in hertz. */
        public static final double USUAL_HZ = 1000;

        /**
         * Checks the values.
         *
         * @throws IllegalArgumentException if ohms or frequency are not positive or the tolerance is not between 0 and 100 %
         */
        public RatedImpedance {
            if (!(ohm > 0) || !(atHz > 0) || !(tolerancePercent > 0 && tolerancePercent < 100)) {
                throw new IllegalArgumentException(
                        "a rated impedance needs positive ohms and hertz and a tolerance between 0" + " and 100 %, not "
                                + ohm + " Ω ± " + tolerancePercent + " % at " + atHz + " Hz");
            }
        }

        /** Its limits. */
        public Limits limits() {
            return Limits.exact(ohm * (1 - tolerancePercent / 100), ohm * (1 + tolerancePercent / 100));
        }
    }

    /**
     * Limits on |Z| in a range of frequencies.
     *
     * @param fromHz lower end in hertz, included
     * @param toHz upper end in hertz, included
     * @param minOhm least |Z| in ohms, 0 for no limit
     * @param maxOhm greatest |Z| in ohms, infinite for no limit
     */
    public record MaskRange(double fromHz, double toHz, double minOhm, double maxOhm) {
        /**
         * Checks the order.
         *
         * @throws IllegalArgumentException unless {@code 0 < from < to} and {@code 0 ≤ min < max}
         */
        public MaskRange {
            if (!(fromHz > 0 && fromHz < toHz) || !(minOhm >= 0 && minOhm < maxOhm)) {
                throw new IllegalArgumentException("a mask needs 0 < from < to and 0 ≤ min < max, not " + fromHz
                        + " Hz to " + toHz + " Hz, " + minOhm + " Ω to " + maxOhm + " Ω");
            }
        }

        /** Its limits, the same at all its frequencies. */
        public Limits limits() {
            return Limits.exact(minOhm, maxOhm);
        }
    }

    /**
     * Where the frequency of the greatest |Z| has to lie.
     *
     * @param fromHz lower end of the window in hertz
     * @param toHz upper end in hertz
     * @param searchFromHz from where the greatest |Z| is looked for, hertz
     * @param searchToHz up to where, hertz
     */
    public record ResonanceWindow(double fromHz, double toHz, double searchFromHz, double searchToHz) {
        /** How many times wider the search is to each side unless something else is said. */
        public static final double USUAL_SEARCH = 3;

        /**
         * Checks the order.
         *
         * @throws IllegalArgumentException unless {@code 0 < searchFrom ≤ from < to ≤ searchTo}
         */
        public ResonanceWindow {
            if (!(0 < searchFromHz && searchFromHz <= fromHz && fromHz < toHz && toHz <= searchToHz)) {
                throw new IllegalArgumentException("a resonance window lies inside the range that is searched, not "
                        + fromHz + " Hz to " + toHz + " Hz in " + searchFromHz + " Hz to " + searchToHz + " Hz");
            }
        }
    }
}
