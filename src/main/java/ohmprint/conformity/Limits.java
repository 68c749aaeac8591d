package ohmprint.conformity;

import java.util.Locale;

/**
 * Limits on |Z| at one frequency.
 *
 * @param lowOhm lower limit in ohms, 0 for none
 * @param highOhm upper limit in ohms, infinite for none
 * @param relativeUncertainty standard uncertainty of the limits themselves as a share of them; 0 where they are exact
 */
public record Limits(double lowOhm, double highOhm, double relativeUncertainty) {
    /** Limits that are what they say, in ohms. */
    public static Limits exact(double lowOhm, double highOhm) {
        return new Limits(lowOhm, highOhm, 0);
    }

    /** True when there is a lower limit. */
    public boolean hasLow() {
        return lowOhm > 0;
    }

    /** True when there is an upper limit. */
    public boolean hasHigh() {
        return highOhm < Double.POSITIVE_INFINITY;
    }

    /** The limit of a side in ohms. */
    public double of(Side side) {
        return side == Side.LOW ? lowOhm : highOhm;
    }

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
}
