package ohmprint.spec;

import ohmprint.uncertainty.CoverageFactor;
import org.jspecify.annotations.Nullable;

/**
 * Decides single checks; the rule is in the comment of the package.
 *
 * @param rates rates of false alarms of one check
 */
record BandJudge(CheckRates rates) {
    /** The answer at one frequency. */
    BandCheck judge(LimitedReading check) {
        Reading reading = check.reading();
        Limits limits = check.limits();
        if (reading.hasValue()) {
            return value(reading, limits);
        }
        return reading.hasBounds() ? bounds(reading, limits) : nothing(reading, limits);
    }

    private BandCheck value(Reading reading, Limits limits) {
        double y = reading.ohm();
        double u95Limit = CoverageFactor.NORMAL * limits.relativeUncertainty() * y;
        double u95 = Math.hypot(reading.u95Ohm(), u95Limit);
        double room = u95 > 0 ? u95 : 1;
        double low = limits.hasLow() ? (y - limits.lowOhm()) / room : Double.POSITIVE_INFINITY;
        double high = limits.hasHigh() ? (limits.highOhm() - y) / room : Double.POSITIVE_INFINITY;
        Side side = low <= high ? Side.LOW : Side.HIGH;
        double guard = u95
                * CoverageFactor.oneSided(side == Side.LOW ? rates.low() : rates.high(), reading.freedom())
                / CoverageFactor.oneSided(GuardBand.SIDE_RATE, reading.freedom());
        double inside = Math.min(low, high) * room;
        Conformity answer =
                inside >= u95 ? Conformity.WITHIN : -inside > guard ? Conformity.OUTSIDE : Conformity.UNDECIDED;
        return new BandCheck(
                reading.hz(),
                reading.status(),
                reading.interpolated(),
                y,
                u95,
                Double.NaN,
                Double.NaN,
                limits,
                guard,
                GuardBand.conformanceProbability(
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
    private BandCheck bounds(Reading reading, Limits limits) {
        double spread = Math.log(reading.highOhm() / Math.max(Double.MIN_NORMAL, reading.lowOhm())) / 2;
        double moreBelow = apart(rates.low(), spread);
        double moreAbove = apart(rates.high(), spread);
        boolean within = reading.lowOhm() >= limits.lowOhm() && reading.highOhm() <= limits.highOhm();
        boolean below = limits.hasLow() && reading.highOhm() * moreBelow < limits.lowOhm();
        boolean above = limits.hasHigh() && reading.lowOhm() / moreAbove > limits.highOhm();
        Conformity answer = within ? Conformity.WITHIN : below || above ? Conformity.OUTSIDE : Conformity.UNDECIDED;
        double none = Double.NaN;
        return new BandCheck(
                reading.hz(),
                reading.status(),
                reading.interpolated(),
                none,
                none,
                reading.lowOhm(),
                reading.highOhm(),
                limits,
                none,
                none,
                answer,
                side(below, above));
    }

    private static double apart(double rate, double spread) {
        return Math.exp((CoverageFactor.oneSided(rate) / CoverageFactor.NORMAL - 1) * spread);
    }

    private static @Nullable Side side(boolean below, boolean above) {
        return below ? Side.LOW : above ? Side.HIGH : null;
    }

    private static BandCheck nothing(Reading reading, Limits limits) {
        double none = Double.NaN;
        return new BandCheck(
                reading.hz(),
                reading.status(),
                reading.interpolated(),
                none,
                none,
                none,
                none,
                limits,
                none,
                none,
                Conformity.UNDECIDED,
                null);
    }
}
