package ohmprint.spec;

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
            throw new IllegalArgumentException("a mask needs 0 < from < to and 0 ≤ min < max, not " + fromHz + " Hz to "
                    + toHz + " Hz, " + minOhm + " Ω to " + maxOhm + " Ω");
        }
    }

    /** Its limits, the same at all its frequencies. */
    public Limits limits() {
        return Limits.exact(minOhm, maxOhm);
    }
}
