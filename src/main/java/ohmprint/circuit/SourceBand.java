package ohmprint.circuit;

import ohmprint.curve.BandValue;
import org.apache.commons.math3.complex.Complex;

/**
 * What a curve says of the source at one frequency.
 *
 * @param hz the frequency
 * @param kind how much is known
 * @param ohms Z; with the sign of X unknown, the one with X of 0 or more
 * @param lowOhm least |Z| of a band that has bounds only
 * @param highOhm greatest |Z| likewise, may be infinite
 */
record SourceBand(double hz, Kind kind, Complex ohms, double lowOhm, double highOhm) {
    /** How much is known. */
    enum Kind {
        /** R and X. */
        COMPLEX,
        /** R and |Z|, not the sign of X. */
        UNSIGNED,
        /** Bounds of |Z|. */
        BOUNDS,
        /** Nothing. */
        NOTHING
    }

    static SourceBand of(BandValue v) {
        return switch (v.status()) {
            case MEASURED -> measured(v);
            case INTERVAL -> bounds(v.frequencyHz(), v.magnitudeLowOhm(), v.magnitudeHighOhm());
            case REJECTED -> nothing(v.frequencyHz());
        };
    }

    private static SourceBand measured(BandValue v) {
        double r = v.resistanceOhm();
        double x = v.reactanceOhm();
        double m = v.magnitudeOhm();
        if (!Double.isNaN(x)) {
            return new SourceBand(v.frequencyHz(), Kind.COMPLEX, new Complex(r, x), Double.NaN, Double.NaN);
        }
        if (Double.isNaN(r)) {
            double u = v.magnitudeU95Ohm() > 0 ? v.magnitudeU95Ohm() : 0;
            return bounds(v.frequencyHz(), Math.max(0, m - u), m + u);
        }
        // R and |Z| are estimated each for itself, so that noise may put R above |Z|.
        double within = Math.max(-m, Math.min(m, r));
        Complex z = new Complex(within, Math.sqrt(Math.max(0, m * m - within * within)));
        return new SourceBand(v.frequencyHz(), Kind.UNSIGNED, z, Double.NaN, Double.NaN);
    }

    static SourceBand bounds(double hz, double lowOhm, double highOhm) {
        return new SourceBand(hz, Kind.BOUNDS, Complex.NaN, lowOhm, highOhm);
    }

    static SourceBand nothing(double hz) {
        return new SourceBand(hz, Kind.NOTHING, Complex.NaN, Double.NaN, Double.NaN);
    }

    /** True when there is an impedance to calculate with. */
    boolean hasValue() {
        return kind == Kind.COMPLEX || kind == Kind.UNSIGNED;
    }
}
