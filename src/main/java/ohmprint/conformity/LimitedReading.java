package ohmprint.conformity;

import ohmprint.conformity.Limits.Side;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.jspecify.annotations.Nullable;

/**
 * A reading with the limits that hold there.
 *
 * @param reading what the curve says
 * @param limits what is required
 */
record LimitedReading(Reading reading, Limits limits) {
    private static final double NONE = Double.NaN;
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    /** True when a limit of this side can be violated: there is one, and a value or bounds. */
    boolean counts(Side side) {
        return (reading.hasValue() || reading.hasBounds()) && (side == Side.LOW ? limits.hasLow() : limits.hasHigh());
    }

    /**
     * The answer; the rule is in the comment of the package.
     *
     * @param rates rates of false alarms of one check
     */
    BandCheck judge(FamilywiseRates rates) {
        if (reading.hasValue()) {
            return value(rates);
        }
        return reading.hasBounds() ? bounds(rates) : check(NONE, NONE, NONE, NONE, Conformity.UNDECIDED, null);
    }

    private BandCheck value(FamilywiseRates rates) {
        double y = reading.ohm();
        double u95Limit = CoverageFactor.NORMAL * limits.relativeUncertainty() * y;
        double u95 = Math.hypot(reading.u95Ohm(), u95Limit);
        double room = u95 > 0 ? u95 : 1;
        double low = limits.hasLow() ? (y - limits.lowOhm()) / room : Double.POSITIVE_INFINITY;
        double high = limits.hasHigh() ? (limits.highOhm() - y) / room : Double.POSITIVE_INFINITY;
        Side side = low <= high ? Side.LOW : Side.HIGH;
        double guard = u95
                * CoverageFactor.oneSided(side == Side.LOW ? rates.low() : rates.high(), reading.freedom())
                / CoverageFactor.oneSided(FamilywiseRates.SIDE_RATE, reading.freedom());
        double inside = Math.min(low, high) * room;
        Conformity answer =
                inside >= u95 ? Conformity.WITHIN : -inside > guard ? Conformity.OUTSIDE : Conformity.UNDECIDED;
        return check(
                y,
                u95,
                guard,
                conformanceProbability(
                        y,
                        u95 / CoverageFactor.NORMAL,
                        limits.hasLow() ? limits.lowOhm() : Double.NEGATIVE_INFINITY,
                        limits.highOhm()),
                answer,
                side);
    }

    /**
     * Bounds hold with 97.5 % each. For a smaller rate they are moved apart: their distance in ln|Z| is at least twice the
     * 95 % uncertainty of either, so {@code (g/1.96 − 1)} times half of it is enough.
     */
    private BandCheck bounds(FamilywiseRates rates) {
        double spread = Math.log(reading.highOhm() / Math.max(Double.MIN_NORMAL, reading.lowOhm())) / 2;
        double moreBelow = apart(rates.low(), spread);
        double moreAbove = apart(rates.high(), spread);
        boolean within = reading.lowOhm() >= limits.lowOhm() && reading.highOhm() <= limits.highOhm();
        boolean below = limits.hasLow() && reading.highOhm() * moreBelow < limits.lowOhm();
        boolean above = limits.hasHigh() && reading.lowOhm() / moreAbove > limits.highOhm();
        Conformity answer = within ? Conformity.WITHIN : below || above ? Conformity.OUTSIDE : Conformity.UNDECIDED;
        return check(NONE, NONE, NONE, NONE, answer, below ? Side.LOW : above ? Side.HIGH : null);
    }

    private BandCheck check(
            double ohm, double u95Ohm, double guardOhm, double probability, Conformity answer, @Nullable Side side) {
        return new BandCheck(
                reading.hz(),
                reading.status(),
                reading.interpolated(),
                ohm,
                u95Ohm,
                reading.lowOhm(),
                reading.highOhm(),
                limits,
                guardOhm,
                probability,
                answer,
                side);
    }

    private static double apart(double rate, double spread) {
        return Math.exp((CoverageFactor.oneSided(rate) / CoverageFactor.NORMAL - 1) * spread);
    }

    /**
     * Probability that the true value lies within the limits, {@code Φ((T_U − y)/u) − Φ((T_L − y)/u)}. Source: JCGM 106:2012,
     * clause 7.
     *
     * @param y measured value
     * @param u its standard uncertainty, same unit; 0 for an exact value
     * @param low lower limit, negative infinity for none
     * @param high upper limit, infinity for none
     */
    static double conformanceProbability(double y, double u, double low, double high) {
        if (u == 0) {
            return y >= low && y <= high ? 1 : 0;
        }
        double above = Double.isInfinite(low) ? 0 : NORMAL.cumulativeProbability((low - y) / u);
        double below = Double.isInfinite(high) ? 1 : NORMAL.cumulativeProbability((high - y) / u);
        return below - above;
    }
}
