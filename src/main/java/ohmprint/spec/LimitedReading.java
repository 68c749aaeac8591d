package ohmprint.spec;

/**
 * A reading with the limits that hold there.
 *
 * @param reading what the curve says
 * @param limits what is required
 */
record LimitedReading(Reading reading, Limits limits) {
    /** True when a limit of this side can be violated: there is one, and a value or bounds. */
    boolean counts(Side side) {
        return (reading.hasValue() || reading.hasBounds()) && (side == Side.LOW ? limits.hasLow() : limits.hasHigh());
    }
}
