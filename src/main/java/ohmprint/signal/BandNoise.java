package ohmprint.signal;

import java.util.Random;

/**
 * Noise of an even spectrum within a band, determined by a seed, that joins its own beginning when it is repeated.
 *
 * <p>{@code x = IDFT{a(f)·e^(jφ)}} with φ random and independent from bin to bin. The amplitude a is constant (white) or
 * falls with 1/√f (pink) between the ends of the band, and fades as a raised cosine in ln f over half an octave beyond
 * them. Samples are close to normally distributed. Unlike noise whose amplitudes are random too, it has no weak bins: a
 * take can be divided by it everywhere.
 */
public final class BandNoise {
    private static final double FADE = Math.log(Math.sqrt(2));

    private BandNoise() {}

    /** How the power is spread over frequency. */
    public enum Colour {
        /** The same power in every hertz. */
        WHITE,
        /** The same power in every octave. */
        PINK
    }

    /**
     * One period.
     *
     * @param frames its length in samples, even, 64 or more
     * @param colour spread of the power
     * @param fromHz lower end of the band in hertz, above 0
     * @param toHz upper end in hertz, above the lower one and at most half the sample rate
     * @param peak highest magnitude of a sample, relative to full scale
     * @param sampleRate in hertz
     * @param seed any number; the same seed gives the same noise
     * @throws IllegalArgumentException if the band or the length is out of these ranges
     */
    public static double[] period(
            int frames, Colour colour, double fromHz, double toHz, double peak, double sampleRate, long seed) {
        if (frames < 64 || frames % 2 != 0) {
            throw new IllegalArgumentException("a period of noise has an even number of frames from 64, not " + frames);
        }
        if (!(fromHz > 0) || !(toHz > fromHz) || toHz > sampleRate / 2) {
            throw new IllegalArgumentException("noise needs 0 < from < to <= " + sampleRate / 2 + " Hz, not " + fromHz
                    + " Hz to " + toHz + " Hz; give the lower frequency first");
        }
        Random random = new Random(seed);
        double[] x = new double[frames];
        for (int i = 1; i < frames / 2; i++) {
            double phase = 2 * Math.PI * random.nextDouble();
            double hz = i * sampleRate / frames;
            double a = fade(Math.max(Math.log(fromHz / hz), Math.log(hz / toHz)))
                    * (colour == Colour.PINK ? 1 / Math.sqrt(hz) : 1);
            x[2 * i] = a * Math.cos(phase);
            x[2 * i + 1] = a * Math.sin(phase);
        }
        RealFourier.ofPeriod(frames).inverse(x);
        double highest = 0;
        for (double v : x) {
            highest = Math.max(highest, Math.abs(v));
        }
        if (highest == 0) {
            throw new IllegalArgumentException("a period of " + frames / sampleRate + " s has no frequency between "
                    + fromHz + " Hz and " + toHz + " Hz; make it longer");
        }
        for (int i = 0; i < frames; i++) {
            x[i] *= peak / highest;
        }
        return x;
    }

    /** Gain at a distance of {@code beyond} in ln f outside the band. */
    private static double fade(double beyond) {
        if (beyond <= 0) {
            return 1;
        }
        return beyond >= FADE ? 0 : 0.5 + 0.5 * Math.cos(Math.PI * beyond / FADE);
    }
}
