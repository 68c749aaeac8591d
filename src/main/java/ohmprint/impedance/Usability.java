package ohmprint.impedance;

import java.util.Locale;

/** How far a measurement can be trusted. */
public enum Usability {
    /** Nothing speaks against the stated uncertainty. */
    USABLE,
    /** Something should be looked at first; the findings say what. */
    DOUBTFUL,
    /** The evidence does not support a curve. */
    UNUSABLE;

    /** The word used in files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
