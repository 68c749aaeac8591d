package ohmprint.spec;

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
