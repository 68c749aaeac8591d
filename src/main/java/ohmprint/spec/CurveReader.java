package ohmprint.spec;

import ohmprint.curve.BandBudget;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;

/**
 * Reads |Z| off a curve at midbands and between them.
 *
 * <p>Between two midbands ln|Z| is taken as a straight line in log frequency, with the share w of the upper one. Their
 * errors count as fully correlated, {@code u = (1−w)·u_a + w·u_b} (relative), which is never too little. What the line may
 * miss of a bend is added to U in full: {@code w(1−w)/2} times the larger of the second differences of ln|Z| at the two
 * bands (the error of linear interpolation of a parabola).
 *
 * <p>Degrees of freedom follow from the ratio of expanded to combined standard uncertainty, where the curve tells both.
 */
final class CurveReader {
    /** Relative difference at which a frequency still is a midband. */
    private static final double SAME_FREQUENCY = 1e-6;

    private final ImpedanceCurve curve;

    CurveReader(ImpedanceCurve curve) {
        this.curve = curve;
    }

    /** What the curve says in a band. */
    Reading band(int i) {
        BandValue v = curve.values().get(i);
        if (v.status() == BandStatus.INTERVAL) {
            return Reading.bounds(v.frequencyHz(), false, v.magnitudeLowOhm(), v.magnitudeHighOhm());
        }
        if (!isUsable(i)) {
            return Reading.nothing(v.frequencyHz());
        }
        return new Reading(
                v.frequencyHz(),
                BandStatus.MEASURED,
                false,
                v.magnitudeOhm(),
                v.magnitudeU95Ohm(),
                freedom(v),
                Double.NaN,
                Double.NaN,
                i,
                0);
    }

    /** What the curve says at a frequency in hertz; nothing beyond its first and last midband. */
    Reading at(double hz) {
        int below = -1;
        for (int i = 0; i < curve.bands().size(); i++) {
            double midband = curve.bands().midband(i);
            if (Math.abs(hz / midband - 1) < SAME_FREQUENCY) {
                return band(i);
            }
            below = midband < hz ? i : below;
        }
        if (below < 0 || below + 1 >= curve.bands().size()) {
            return Reading.nothing(hz);
        }
        Reading a = band(below);
        Reading b = band(below + 1);
        if (a.status() == BandStatus.REJECTED || b.status() == BandStatus.REJECTED) {
            return Reading.nothing(hz);
        }
        return a.hasValue() && b.hasValue() ? between(a, b, hz) : boundsOf(a, b, hz);
    }

    private Reading between(Reading a, Reading b, double hz) {
        double w = Math.log(hz / a.hz()) / Math.log(b.hz() / a.hz());
        double ohm = Math.exp((1 - w) * Math.log(a.ohm()) + w * Math.log(b.ohm()));
        double bend = w * (1 - w) / 2 * Math.max(bend(a.lowerBand()), bend(b.lowerBand()));
        double u95 = ohm * ((1 - w) * a.u95Ohm() / a.ohm() + w * b.u95Ohm() / b.ohm() + Math.expm1(bend));
        return new Reading(
                hz,
                BandStatus.MEASURED,
                true,
                ohm,
                u95,
                Math.min(a.freedom(), b.freedom()),
                Double.NaN,
                Double.NaN,
                a.lowerBand(),
                w);
    }

    private static Reading boundsOf(Reading a, Reading b, double hz) {
        double lowA = a.hasValue() ? a.ohm() - a.u95Ohm() : a.lowOhm();
        double lowB = b.hasValue() ? b.ohm() - b.u95Ohm() : b.lowOhm();
        double highA = a.hasValue() ? a.ohm() + a.u95Ohm() : a.highOhm();
        double highB = b.hasValue() ? b.ohm() + b.u95Ohm() : b.highOhm();
        return Reading.bounds(hz, true, Math.min(lowA, lowB), Math.max(highA, highB));
    }

    /** Second difference of ln|Z| at a band, without sign; 0 where a neighbour is missing. */
    private double bend(int i) {
        if (i < 1 || i + 1 >= curve.bands().size() || !isUsable(i - 1) || !isUsable(i + 1)) {
            return 0;
        }
        return Math.abs(log(i + 1) - 2 * log(i) + log(i - 1));
    }

    private double log(int i) {
        return Math.log(curve.values().get(i).magnitudeOhm());
    }

    /** True for a positive value with an uncertainty; without one nothing can be decided. */
    private boolean isUsable(int i) {
        BandValue v = curve.values().get(i);
        return v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0;
    }

    private static double freedom(BandValue v) {
        BandBudget budget = v.budget();
        double combined = budget == null ? 0 : budget.combined();
        return combined > 0 ? GuardBand.freedom(v.magnitudeU95Ohm() / combined) : Double.POSITIVE_INFINITY;
    }
}
