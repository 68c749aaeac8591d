package ohmprint.conformity;

import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.uncertainty.CoverageFactor;

/**
 * What a curve says about |Z| at one frequency, at a midband or between two; {@link ImpedanceCurve#at} says how.
 *
 * @param hz frequency in hertz
 * @param status value with uncertainty, bounds alone, or nothing
 * @param interpolated true when it lies between two midbands
 * @param ohm |Z| in ohms; NaN without a value
 * @param u95Ohm 95 % expanded uncertainty in ohms; NaN without a value
 * @param freedom effective degrees of freedom of the uncertainty, infinite where it counts as known
 * @param lowOhm lower bound in ohms of an interval, else NaN
 * @param highOhm upper bound in ohms of an interval, perhaps infinite, else NaN
 * @param lowerBand index of the band at or below the frequency; −1 without a value
 * @param share weight of the band above it, 0 at the midband itself
 */
record Reading(
        double hz,
        BandStatus status,
        boolean interpolated,
        double ohm,
        double u95Ohm,
        double freedom,
        double lowOhm,
        double highOhm,
        int lowerBand,
        double share) {
    /** What the curve says in a band. */
    static Reading band(ImpedanceCurve curve, int i) {
        BandValue v = curve.values().get(i);
        if (v.status() == BandStatus.INTERVAL) {
            return bounds(v.frequencyHz(), false, v.magnitudeLowOhm(), v.magnitudeHighOhm());
        }
        // Without a positive value and an uncertainty nothing can be decided.
        if (!(v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0)) {
            return nothing(v.frequencyHz());
        }
        return new Reading(
                v.frequencyHz(),
                BandStatus.MEASURED,
                false,
                v.magnitudeOhm(),
                v.magnitudeU95Ohm(),
                v.magnitudeFreedom(),
                Double.NaN,
                Double.NaN,
                i,
                0);
    }

    /** What the curve says at a frequency in hertz; nothing beyond its first and last midband. */
    static Reading at(ImpedanceCurve curve, double hz) {
        ImpedanceCurve.Place place = curve.place(hz);
        if (place == null) {
            return nothing(hz);
        }
        if (place.isMidband()) {
            return band(curve, place.lower());
        }
        BandValue v = curve.at(hz);
        return switch (v.status()) {
            case REJECTED -> nothing(hz);
            case INTERVAL -> bounds(hz, true, v.magnitudeLowOhm(), v.magnitudeHighOhm());
            case MEASURED ->
                new Reading(
                        hz,
                        BandStatus.MEASURED,
                        true,
                        v.magnitudeOhm(),
                        v.magnitudeU95Ohm(),
                        curve.magnitudeFreedom(hz),
                        Double.NaN,
                        Double.NaN,
                        place.lower(),
                        place.share());
        };
    }

    private static Reading nothing(double hz) {
        double none = Double.NaN;
        return new Reading(hz, BandStatus.REJECTED, false, none, none, none, none, none, -1, 0);
    }

    private static Reading bounds(double hz, boolean interpolated, double lowOhm, double highOhm) {
        double none = Double.NaN;
        return new Reading(hz, BandStatus.INTERVAL, interpolated, none, none, none, lowOhm, highOhm, -1, 0);
    }

    boolean hasValue() {
        return status == BandStatus.MEASURED;
    }

    boolean hasBounds() {
        return status == BandStatus.INTERVAL;
    }

    /** Standard uncertainty in ohms that belongs to the expanded one. */
    double uOhm() {
        return u95Ohm / CoverageFactor.oneSided(FamilywiseRates.SIDE_RATE, freedom);
    }
}
