package ohmprint.spec;

/**
 * |Z| at one frequency.
 *
 * @param ohm rated impedance in ohms
 * @param tolerancePercent tolerance to both sides in percent
 * @param atHz frequency in hertz
 */
public record RatedImpedance(double ohm, double tolerancePercent, double atHz) {
    /** Where an impedance is rated unless something else is said, in hertz. */
    public static final double USUAL_HZ = 1000;

    /**
     * Checks the values.
     *
     * @throws IllegalArgumentException if ohms or frequency are not positive or the tolerance is not between 0 and 100 %
     */
    public RatedImpedance {
        if (!(ohm > 0) || !(atHz > 0) || !(tolerancePercent > 0 && tolerancePercent < 100)) {
            throw new IllegalArgumentException(
                    "a rated impedance needs positive ohms and hertz and a tolerance between 0" + " and 100 %, not "
                            + ohm + " Ω ± " + tolerancePercent + " % at " + atHz + " Hz");
        }
    }

    /** Its limits. */
    public Limits limits() {
        return Limits.exact(ohm * (1 - tolerancePercent / 100), ohm * (1 + tolerancePercent / 100));
    }
}
