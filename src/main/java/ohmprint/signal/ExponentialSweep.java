package ohmprint.signal;

import org.apache.commons.math3.complex.Complex;

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

    private final double fromHz;
    private final double toHz;
    private final double seconds;
    private final double peak;
    private final double sampleRate;
    private final double rate;
    private final int framesBefore;
    private final int framesAfter;

    private ExponentialSweep(double fromHz, double toHz, double seconds, double peak, double sampleRate) {
        this.fromHz = fromHz;
        this.toHz = toHz;
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

    /**
     * Analytic spectrum of the sweep without fades, by stationary phase, time origin at f₁.
     *
     * <p>{@code X(f) = (a/2)·√(L/f)·exp{j2πL[f(1 − ln(f/f₁)) − f₁] − jπ/4}} in full scale per hertz. The term −f₁ in the
     * bracket belongs to the −1 in x(t); with the synchronised sweep, where f₁L is whole, it is a full turn and drops out.
     * Compare it with the discrete transform divided by the sample rate. Right within 0.03 % and 0.006° well inside the
     * band of a sweep of 10 s.
     *
     * @param hz frequency in hertz, positive
     */
    public Complex spectrum(double hz) {
        if (!(hz > 0)) {
            throw new IllegalArgumentException("the spectrum of a sweep is defined above 0 Hz, not at " + hz + " Hz");
        }
        double magnitude = 0.5 * peak * Math.sqrt(rate / hz);
        double phase = 2 * Math.PI * rate * (hz * (1 - Math.log(hz / fromHz)) - fromHz) - Math.PI / 4;
        return new Complex(magnitude * Math.cos(phase), magnitude * Math.sin(phase));
    }

    /** By how many seconds the impulse response of harmonic n comes before the linear one: {@code L·ln n}, n ≥ 1. */
    public double harmonicLeadSeconds(int n) {
        if (n < 1) {
            throw new IllegalArgumentException("harmonics count from 1, the fundamental, not " + n);
        }
        return rate * Math.log(n);
    }

    /** The rate constant L in seconds: the time in which the frequency grows e-fold. */
    public double rateSeconds() {
        return rate;
    }

    /** Seconds after t = 0 at which the sweep passes a frequency in hertz: {@code L·ln(f/f₁)}. */
    public double secondsAt(double hz) {
        return rate * Math.log(hz / fromHz);
    }

    /** Lower end of the band, f₁, in hertz. */
    public double fromHz() {
        return fromHz;
    }

    /** Upper end of the band, f₂, in hertz. */
    public double toHz() {
        return toHz;
    }

    /** Duration T of the band in seconds. */
    public double seconds() {
        return seconds;
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
}
