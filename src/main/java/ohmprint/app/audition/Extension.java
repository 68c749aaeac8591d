package ohmprint.app.audition;

import java.util.function.DoubleFunction;
import org.apache.commons.math3.complex.Complex;

/**
 * A response within a band, continued to unity outside: {@code ln H(f) = s·ln H(edge)}, s running from 1 at the edge
 * to 0 with two continuous derivatives, over {@value #OCTAVES_BELOW} octaves below the band, and over one octave above it
 * or up to half the sample rate.
 */
final class Extension implements DoubleFunction<Complex> {
    private static final double OCTAVES_BELOW = 3;
    /** The band ends at this share of half the sample rate at the latest: the way to unity needs room. */
    private static final double ROOM = 0.9;

    private final DoubleFunction<Complex> inside;
    private final double lowHz;
    private final double highHz;
    private final double unityHz;
    private final Complex low;
    private final Complex high;

    /**
     * Continues a response.
     *
     * @param inside the response within the band
     * @param lowHz lower end of the band in hertz
     * @param highHz its upper end
     * @param rate sample rate in hertz
     */
    Extension(DoubleFunction<Complex> inside, double lowHz, double highHz, double rate) {
        this.inside = inside;
        this.lowHz = lowHz;
        this.highHz = Math.min(highHz, ROOM * rate / 2);
        this.unityHz = Math.min(2 * this.highHz, rate / 2);
        if (!(this.highHz > lowHz)) {
            throw new IllegalArgumentException("a sample rate of " + rate
                    + " Hz holds nothing of a band that begins at " + lowHz + " Hz; use a take of a higher rate");
        }
        low = inside.apply(lowHz).log();
        high = inside.apply(this.highHz).log();
    }

    /** Upper end of the band that is followed, in hertz. */
    double highHz() {
        return highHz;
    }

    @Override
    public Complex apply(double hz) {
        if (hz < lowHz) {
            double octaves = hz > 0 ? Math.log(lowHz / hz) / Math.log(2) : OCTAVES_BELOW;
            return low.multiply(1 - smooth(octaves / OCTAVES_BELOW)).exp();
        }
        if (hz > highHz) {
            return high.multiply(1 - smooth((hz - highHz) / (unityHz - highHz))).exp();
        }
        return inside.apply(hz);
    }

    /** From 0 at 0 to 1 at 1. */
    private static double smooth(double share) {
        double u = Math.min(1, Math.max(0, share));
        return u * u * u * (10 - 15 * u + 6 * u * u);
    }
}
