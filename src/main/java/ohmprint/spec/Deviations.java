package ohmprint.spec;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;

/**
 * Where a curve lies beyond its limits, band by band, for the sake of its shape.
 *
 * <p>The limits of a band are the tightest that mask and reference have there. Where both are silent the rated impedance
 * serves from 100 Hz to 5 kHz, in which |Z| of most microphones stays near it (common practice, no source). Only
 * significant deviations count: beyond the limit by the guard band that all bands together ask for.
 */
final class Deviations {
    private static final double RATED_FROM_HZ = 100;
    private static final double RATED_TO_HZ = 5000;

    private final ImpedanceCurve curve;
    private final List<BandCheck> checks = new ArrayList<>();

    private Deviations(ImpedanceCurve curve) {
        this.curve = curve;
    }

    static Deviations of(Specification specification, ImpedanceCurve curve) {
        Deviations out = new Deviations(curve);
        List<LimitedReading> limited = new ArrayList<>();
        CurveReader reader = new CurveReader(curve);
        for (int i = 0; i < curve.bands().size(); i++) {
            Limits limits = limits(specification, curve.bands().midband(i));
            Reading reading = reader.band(i);
            if ((limits.hasLow() || limits.hasHigh()) && (reading.hasValue() || reading.hasBounds())) {
                limited.add(new LimitedReading(reading, limits));
            }
        }
        CheckRates rates =
                CheckRates.of(curve, List.of(limited), GuardBand.SIDE_RATE).get(0);
        limited.forEach(check -> out.checks.add(new BandJudge(rates).judge(check)));
        return out;
    }

    private static Limits limits(Specification specification, double hz) {
        double low = 0;
        double high = Double.POSITIVE_INFINITY;
        double uncertainty = 0;
        for (MaskRange range : specification.mask()) {
            if (hz >= range.fromHz() && hz <= range.toHz()) {
                low = Math.max(low, range.minOhm());
                high = Math.min(high, range.maxOhm());
            }
        }
        ReferenceCurve reference = specification.reference();
        if (reference != null && hz >= reference.fromHz() && hz <= reference.toHz()) {
            Limits limits = reference.limits(hz);
            low = Math.max(low, limits.lowOhm());
            high = Math.min(high, limits.highOhm());
            uncertainty = limits.relativeUncertainty();
        }
        RatedImpedance rated = specification.rated();
        if (rated != null && low == 0 && Double.isInfinite(high) && hz >= RATED_FROM_HZ && hz <= RATED_TO_HZ) {
            return rated.limits();
        }
        return new Limits(low, high, uncertainty);
    }

    /** Share of the bands with limits in a range of frequencies that lie beyond this limit; 0 when there are none. */
    double share(Side side, double fromHz, double toHz) {
        List<BandCheck> there =
                checks.stream().filter(c -> c.hz() >= fromHz && c.hz() < toHz).toList();
        long beyond = there.stream().filter(c -> isBeyond(c, side)).count();
        return there.isEmpty() ? 0 : beyond / (double) there.size();
    }

    /** True when the lowest band with limits lies beyond this one. */
    boolean startsBeyond(Side side) {
        return !checks.isEmpty() && isBeyond(checks.get(0), side);
    }

    /** True when the highest band with limits lies beyond this one. */
    boolean endsBeyond(Side side) {
        return !checks.isEmpty() && isBeyond(checks.get(checks.size() - 1), side);
    }

    private static boolean isBeyond(BandCheck check, Side side) {
        return check.conformity() == Conformity.OUTSIDE && check.side() == side;
    }

    /**
     * Slope of ln|Z| against ln f between two frequencies in hertz, from the outermost bands with a value there: −1 for a
     * capacitor, +1 for an inductor; 0 when there are fewer than two.
     */
    double slope(double fromHz, double toHz) {
        List<BandValue> values = curve.values().stream()
                .filter(v -> v.isMeasured() && v.magnitudeOhm() > 0)
                .filter(v -> v.frequencyHz() >= fromHz && v.frequencyHz() <= toHz)
                .toList();
        if (values.size() < 2) {
            return 0;
        }
        BandValue first = values.get(0);
        BandValue last = values.get(values.size() - 1);
        return Math.log(last.magnitudeOhm() / first.magnitudeOhm())
                / Math.log(last.frequencyHz() / first.frequencyHz());
    }

    /** Frequency in hertz of the lowest band of the curve. */
    double lowestHz() {
        return curve.bands().midband(0);
    }
}
