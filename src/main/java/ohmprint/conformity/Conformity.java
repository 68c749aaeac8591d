package ohmprint.conformity;

import java.util.Locale;

/** Answer to the question whether something lies within its limits. */
public enum Conformity {
    /** Within, beyond reasonable doubt. */
    WITHIN,
    /** Outside, beyond reasonable doubt. */
    OUTSIDE,
    /** The uncertainty, or what was not measured, leaves it open. */
    UNDECIDED;

    /** The word used in files and messages: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** What two answers are together: outside if one is, within if both are. */
    public Conformity and(Conformity other) {
        if (this == OUTSIDE || other == OUTSIDE) {
            return OUTSIDE;
        }
        return this == WITHIN && other == WITHIN ? WITHIN : UNDECIDED;
    }
}
