package ohmprint.dsp;

import java.util.OptionalDouble;

/**
 * An exponential sine sweep whose fades lie outside the band that is measured.
 *
 * <p>{@code x(t) = a·sin{2πf₁L[e^(t/L) − 1]}}, {@code L = T/ln(f₂/f₁)}, with t in seconds from the moment the sweep
 * passes f₁. The instantaneous frequency is {@code f₁·e^(t/L)}. The sweep starts up to half an octave below f₁ and ends up
 * to half an octave above f₂, but below 0.985 of the Nyquist frequency; raised-cosine fades fill these two extensions, so
 * that the amplitude is exactly a everywhere between f₁ and f₂.
 *
 * <p>Source: A. Farina, "Simultaneous measurement of impulse response and distortion with a swept-sine technique", AES
 * 108th Convention, 2000; A. Novak, P. Lotton, L. Simon, "Synchronized swept-sine", JAES 63(10), 2015.
 */
public final class ExponentialSweep {
    private static final double EXTENSION_RATIO = Math.sqrt(2);
    private static final double NYQUIST_SHARE = 0.985;

    /** Where in a stimulus its pace is looked at, as shares of its length. */
    private static final double[] PLACES = {0.3, 0.45, 0.6, 0.75, 0.88};

    private static final int CROSSINGS = 8;
    private static final double AGREE = 0.03;

    private final double fromHz;
    private final double seconds;
    private final double peak;
    private final double sampleRate;
    private final double rate;
    private final int framesBefore;
    private final int framesAfter;

    private ExponentialSweep(double fromHz, double toHz, double seconds, double peak, double sampleRate) {
        this.fromHz = fromHz;
        this.seconds = seconds;
        this.peak = peak;
        this.sampleRate = sampleRate;
        this.rate = seconds / Math.log(toHz / fromHz);
        double highest = Math.min(toHz * EXTENSION_RATIO, NYQUIST_SHARE * sampleRate / 2);
        this.framesBefore = (int) Math.ceil(rate * Math.log(EXTENSION_RATIO) * sampleRate);
        this.framesAfter = (int) Math.floor(rate * Math.log(highest / toHz) * sampleRate);
    }

    /**
     * A sweep over a band.
     *
     * @param fromHz lower end of the band f₁ in hertz, positive
     * @param toHz upper end of the band f₂ in hertz, above f₁ and below 0.95 of the Nyquist frequency, so that the fade
     *     above it has room
     * @param seconds duration T of the band in seconds, without the fades
     * @param peakDbfs peak level in decibels relative to full scale, at most 0
     * @param sampleRate in hertz
     * @throws IllegalArgumentException if a value is out of these ranges
     */
    public static ExponentialSweep ofBand(
            double fromHz, double toHz, double seconds, double peakDbfs, double sampleRate) {
        if (!(sampleRate > 0) || Double.isInfinite(sampleRate)) {
            throw new IllegalArgumentException("sample rate " + sampleRate + " Hz is not positive; give 44100 or more");
        }
        if (!(fromHz > 0) || !(toHz > fromHz)) {
            throw new IllegalArgumentException("a sweep needs 0 < from < to, not " + fromHz + " Hz to " + toHz
                    + " Hz; give the lower frequency first");
        }
        if (toHz > 0.95 * sampleRate / 2) {
            throw new IllegalArgumentException("a sweep to " + toHz + " Hz leaves no room for its fade below half of "
                    + sampleRate + " Hz; end it at " + 0.95 * sampleRate / 2 + " Hz or raise the sample rate");
        }
        if (!(seconds > 0) || seconds * sampleRate > 1e8) {
            throw new IllegalArgumentException("a sweep of " + seconds + " s is out of range; give 1 s to 60 s");
        }
        if (!(peakDbfs <= 0)) {
            throw new IllegalArgumentException(
                    "a peak level of " + peakDbfs + " dBFS is above full scale; give 0 dBFS or less");
        }
        return new ExponentialSweep(fromHz, toHz, seconds, Math.pow(10, peakDbfs / 20), sampleRate);
    }

    /** The whole sweep with its fades; sample {@link #framesBefore()} is the moment t = 0. */
    public double[] samples() {
        double[] x = new double[frames()];
        for (int i = 0; i < x.length; i++) {
            int n = i - framesBefore;
            double t = n / sampleRate;
            x[i] = peak * fade(n) * Math.sin(2 * Math.PI * fromHz * rate * Math.expm1(t / rate));
        }
        return x;
    }

    /** Sample rate in hertz. */
    public double sampleRate() {
        return sampleRate;
    }

    /** Frames of the fade-in before the sweep passes f₁. */
    public int framesBefore() {
        return framesBefore;
    }

    /** Length of {@link #samples()}. */
    public int frames() {
        return framesBefore + bandFrames() + framesAfter + 1;
    }

    private int bandFrames() {
        return (int) Math.ceil(seconds * sampleRate);
    }

    /** Gain at frame n from t = 0: 1 in the band, raised cosine outside. */
    private double fade(int n) {
        if (n < 0) {
            return 0.5 + 0.5 * Math.cos(Math.PI * n / framesBefore);
        }
        int beyond = n - bandFrames();
        return beyond <= 0 ? 1 : 0.5 + 0.5 * Math.cos(Math.PI * beyond / framesAfter);
    }

    /**
     * How fast an exponential sweep moves: the time L in seconds in which its frequency grows by the factor e, by the zero
     * crossings at five places. Divided by the sweep, a take holds the n-th harmonic of the chain {@code L·ln n} before its
     * impulse response. Source: A. Farina, as above.
     *
     * @param samples a stimulus
     * @param sampleRate in hertz
     * @return empty for what is no rising exponential sweep
     */
    public static OptionalDouble secondsPerNeper(double[] samples, double sampleRate) {
        double[] at = new double[PLACES.length];
        double[] logHz = new double[PLACES.length];
        for (int p = 0; p < PLACES.length; p++) {
            double first = crossing(samples, (int) (PLACES[p] * samples.length));
            double last = first;
            for (int c = 0; c < CROSSINGS; c++) {
                last = crossing(samples, (int) last + 1);
            }
            at[p] = (first + last) / 2;
            logHz[p] = Math.log(CROSSINGS / (2 * (last - first)));
        }
        int end = PLACES.length - 1;
        double overall = (at[end] - at[0]) / (logHz[end] - logHz[0]);
        for (int p = 0; p < end; p++) {
            double here = (at[p + 1] - at[p]) / (logHz[p + 1] - logHz[p]);
            if (!(Math.abs(here / overall - 1) < AGREE)) {
                return OptionalDouble.empty();
            }
        }
        return overall > 0 ? OptionalDouble.of(overall / sampleRate) : OptionalDouble.empty();
    }

    /** The next change of sign at or after a sample, interpolated; NaN at the end. */
    private static double crossing(double[] x, int from) {
        for (int i = Math.max(0, from); i + 1 < x.length; i++) {
            if (x[i] < 0 != x[i + 1] < 0) {
                return i + x[i] / (x[i] - x[i + 1]);
            }
        }
        return Double.NaN;
    }
}
