package ohmprint.session;

/** What counts as true where a manifest does not say: tolerances of usual parts, common practice, no source. */
public final class Assumed {
    /** Tolerance of a load resistor in percent. */
    public static final double LOAD_TOLERANCE_PERCENT = 1;

    /** Tolerance of the resistance of the recording input in percent. */
    public static final double INPUT_TOLERANCE_PERCENT = 5;

    /** Tolerance of the capacitance of the recording input in percent. */
    public static final double INPUT_CAPACITANCE_TOLERANCE_PERCENT = 20;

    private Assumed() {}
}
