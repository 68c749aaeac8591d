package ohmprint.circuit;

/**
 * Frequency weighting A:
 *
 * <pre>{@code
 * A(f) = 20·lg( f4²·f⁴ / [ (f² + f1²)·√(f² + f2²)·√(f² + f3²)·(f² + f4²) ] ) + 2.000 dB
 * f1 = 20.60 Hz, f2 = 107.7 Hz, f3 = 737.9 Hz, f4 = 12194 Hz
 * }</pre>
 *
 * <p>Source: IEC 61672-1:2013, annex E (formula and exact pole frequencies from memory).
 */
public final class AWeighting {
    private static final double F1 = 20.598997;
    private static final double F2 = 107.65265;
    private static final double F3 = 737.86223;
    private static final double F4 = 12194.217;
    private static final double AT_REFERENCE = unscaled(1000);

    private AWeighting() {}

    /** Weighting in decibels, 0 at 1 kHz. */
    public static double db(double hz) {
        return 20 * Math.log10(gain(hz));
    }

    /** Weighting as a factor of voltage, 1 at 1 kHz. */
    public static double gain(double hz) {
        return unscaled(hz) / AT_REFERENCE;
    }

    private static double unscaled(double hz) {
        double f = hz * hz;
        return F4 * F4 * f * f / ((f + F1 * F1) * Math.sqrt(f + F2 * F2) * Math.sqrt(f + F3 * F3) * (f + F4 * F4));
    }
}
