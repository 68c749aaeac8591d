package ohmprint.impedance;

import java.util.Locale;

/** What a band's entry is: a value, an interval, or nothing. */
public enum BandStatus {
    /** A value with its uncertainty. */
    MEASURED,
    /** Only bounds on |Z| follow from the takes (two loads without phase information). */
    INTERVAL,
    /** The takes do not support a statement in this band; all values are empty. */
    REJECTED;

    /** The word used in files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
