package ohmprint.spec;

import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;

/** Reads |Z| off a curve at midbands and between them, for a decision: {@link ImpedanceCurve#at} says how. */
final class CurveReader {
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
        // Without a positive value and an uncertainty nothing can be decided.
        if (!(v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0)) {
            return Reading.nothing(v.frequencyHz());
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
    Reading at(double hz) {
        ImpedanceCurve.Place place = curve.place(hz);
        if (place == null) {
            return Reading.nothing(hz);
        }
        if (place.isMidband()) {
            return band(place.lower());
        }
        BandValue v = curve.at(hz);
        return switch (v.status()) {
            case REJECTED -> Reading.nothing(hz);
            case INTERVAL -> Reading.bounds(hz, true, v.magnitudeLowOhm(), v.magnitudeHighOhm());
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
}
