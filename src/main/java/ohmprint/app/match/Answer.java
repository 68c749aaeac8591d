package ohmprint.app.match;

import java.util.Locale;
import ohmprint.curve.PredictedValue;

/** An answer that uncertainty may leave open. */
public enum Answer {
    /** Yes, with its uncertainty on the far side. */
    YES,
    /** No, likewise. */
    NO,
    /** The limit lies within the uncertainty or the bounds. */
    UNDECIDED,
    /** Nothing is known. */
    UNKNOWN;

    /** Whether a value is at least as great as a limit. */
    static Answer atLeast(double limit, PredictedValue p) {
        double u = p.u95() > 0 ? p.u95() : 0;
        double low = p.isValue() ? p.value() - u : p.low();
        double high = p.isValue() ? p.value() + u : p.high();
        if (Double.isNaN(low)) {
            return UNKNOWN;
        }
        // A load of ten times to the last digit keeps the rule.
        double rounding = 1e-9 * Math.max(1, Math.abs(limit));
        return low >= limit - rounding ? YES : high < limit - rounding ? NO : UNDECIDED;
    }

    /** The word used in files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
