package ohmprint.curve;

import java.util.Locale;

/** Where a part of the uncertainty comes from. */
public enum CauseOrigin {
    /** What is random from bin to bin: ambient noise, hum remnants, converter noise. */
    NOISE,
    /** Gain of a take: source level, position, preamplifier. */
    DRIFT,
    /** Value of a load resistor. */
    LOADS,
    /** Recording input and its cable. */
    INPUT,
    /** Residual delay of a take. */
    TIMING;

    /** The word used in files: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
