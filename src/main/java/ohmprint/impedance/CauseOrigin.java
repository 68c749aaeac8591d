package ohmprint.impedance;

import java.util.Locale;

/**
 * Where a part of the uncertainty comes from: the origins that a {@link BandBudget} has and a {@link SharedCause} is of one
 * of. They are listed here only; files, tables and the page take order and words from here.
 */
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

    /** The word used in files and in the heads of tables: lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** Key in JSON of a standard uncertainty in ohms that comes from here. */
    public String ohmKey() {
        return word() + "_ohm";
    }
}
