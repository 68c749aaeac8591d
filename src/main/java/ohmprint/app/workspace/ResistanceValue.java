package ohmprint.app.workspace;

/**
 * A resistance as a person states it.
 *
 * @param value ohms; infinite for no resistor, NaN for one that is not known
 */
public record ResistanceValue(double value) {
    /** True when there is no resistor. */
    public boolean isOpen() {
        return Double.isInfinite(value);
    }

    /** True when it is not known. */
    public boolean isUnknown() {
        return Double.isNaN(value);
    }
}
