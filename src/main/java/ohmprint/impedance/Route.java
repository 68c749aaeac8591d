package ohmprint.impedance;

import java.util.Locale;

/** What the takes of a session were compared with. */
public enum Route {
    /** Each take with the known stimulus. */
    STIMULUS,
    /** Each take with a second channel that hears the source but not the load. */
    REFERENCE,
    /** The takes with each other: the same sound was played, no file of it is known. */
    COMMON,
    /** Power spectra alone: the takes are not coherent. */
    POWER;

    /** The word used in options and files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
