package ohmprint.spec;

import java.util.Locale;

/** The side of the limits to which something lies. */
public enum Side {
    /** Below, or nearer to, the lower limit. */
    LOW,
    /** Above, or nearer to, the upper limit. */
    HIGH;

    /** The word used in files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
