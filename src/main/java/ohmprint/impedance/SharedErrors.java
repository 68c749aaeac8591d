package ohmprint.impedance;

import java.util.Locale;

/** What is done about errors that all bands share: gains and delays of the takes, loads, input. */
public enum SharedErrors {
    /**
     * They are fitted to all bands at once, together with what is believed about them, where three or more takes leave
     * something over to fit them to and do not contradict each other or what was entered. What remains of them is carried into
     * the uncertainty.
     */
    FITTED,
    /** They are left as believed and carried into the uncertainty, every band for itself. */
    CARRIED;

    /** What is done when nothing else is asked for. */
    public static final SharedErrors USUAL = FITTED;

    /** The word used in options and files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
