package ohmprint.chart;

import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.jspecify.annotations.Nullable;

/**
 * What the axes of a curve must hold.
 *
 * @param low lower end
 * @param high upper end
 */
record CurveRanges(double low, double high) {
    private static final double AUDIBLE_LOW_HZ = 20;
    private static final double AUDIBLE_HIGH_HZ = 20000;
    private static final double NARROW_FACTOR = 10;
    private static final double LEAST_OHM_FACTOR = 4;
    private static final double LEAST_DEGREES = 20;
    private static final double MOST_UNCERTAIN_DEGREES = 25;
    private static final double MOST_UNCERTAIN_FACTOR = 2;
    private static final double MARGIN = 0.06;

    /**
     * Hertz: 20 Hz to 20 kHz, so that pictures can be compared, and further where the bands go further; only the bands
     * themselves where they span less than a decade.
     */
    static CurveRanges hertz(FrequencyBands bands) {
        double low = bands.lowerEdge(0);
        double high = bands.upperEdge(bands.size() - 1);
        boolean narrow = high < low * NARROW_FACTOR;
        return narrow
                ? new CurveRanges(low, high)
                : new CurveRanges(Math.min(low, AUDIBLE_LOW_HZ), Math.max(high, AUDIBLE_HIGH_HZ));
    }

    /**
     * Ohms, both ends positive: all values and bounds with the 95 % band, of which no more than a factor of two either way
     * is shown, at least a factor of four in all. 100 Ω to 1 kΩ when the curve says nothing.
     */
    static CurveRanges ohms(ImpedanceCurve curve) {
        double low = Double.POSITIVE_INFINITY;
        double high = 0;
        for (BandValue v : curve.values()) {
            double least = v.magnitudeOhm();
            double most = v.magnitudeOhm();
            double u = v.magnitudeU95Ohm();
            if (v.status() == BandStatus.MEASURED && u > 0) {
                least = Math.max(least - u, least / MOST_UNCERTAIN_FACTOR);
                most = Math.min(most + u, most * MOST_UNCERTAIN_FACTOR);
            } else if (v.status() == BandStatus.INTERVAL) {
                least = v.magnitudeLowOhm();
                most = v.magnitudeHighOhm();
            }
            if (least > 0) {
                low = Math.min(low, least);
                high = Math.max(high, least);
            }
            if (most > 0 && Double.isFinite(most)) {
                high = Math.max(high, most);
                low = Math.min(low, most);
            }
        }
        if (high == 0) {
            return new CurveRanges(100, 1000);
        }
        double centre = Math.sqrt(low * high);
        low = Math.min(low, centre / Math.sqrt(LEAST_OHM_FACTOR));
        high = Math.max(high, centre * Math.sqrt(LEAST_OHM_FACTOR));
        double margin = Math.pow(high / low, MARGIN);
        return new CurveRanges(low / margin, high * margin);
    }

    /** What an axis must hold that holds both. */
    CurveRanges and(CurveRanges other) {
        return new CurveRanges(Math.min(low, other.low), Math.max(high, other.high));
    }

    /** Degrees: all phases with their band, of which no more than 25° either way is shown; null without any phase. */
    static @Nullable CurveRanges degrees(ImpedanceCurve curve) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (BandValue v : curve.values()) {
            if (v.isMeasured() && Double.isFinite(v.phaseRad())) {
                double u = v.phaseU95Deg() > 0 ? Math.min(v.phaseU95Deg(), MOST_UNCERTAIN_DEGREES) : 0;
                low = Math.min(low, v.phaseDeg() - u);
                high = Math.max(high, v.phaseDeg() + u);
            }
        }
        if (low > high) {
            return null;
        }
        double centre = (low + high) / 2;
        double half = Math.max(high - low, LEAST_DEGREES) / 2 * (1 + 2 * MARGIN);
        return new CurveRanges(centre - half, centre + half);
    }
}
