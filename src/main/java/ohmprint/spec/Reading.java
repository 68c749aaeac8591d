package ohmprint.spec;

import ohmprint.curve.BandStatus;
import ohmprint.uncertainty.CoverageFactor;

/**
 * What a curve says about |Z| at one frequency.
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
    static Reading nothing(double hz) {
        double none = Double.NaN;
        return new Reading(hz, BandStatus.REJECTED, false, none, none, none, none, none, -1, 0);
    }

    static Reading bounds(double hz, boolean interpolated, double lowOhm, double highOhm) {
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
        return u95Ohm / CoverageFactor.oneSided(GuardBand.SIDE_RATE, freedom);
    }
}
