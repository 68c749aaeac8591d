package ohmprint.dsp;

import java.util.Random;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * Noise that a seed determines.
 *
 * <p>The random numbers are those of {@link java.util.Random}, whose algorithm the Java platform fixes for every
 * implementation, so the same seed gives the same white noise everywhere. Pink noise passes through an FFT, whose last bits
 * may depend on the platform's sine: equal to about 1e-13, and identical once rounded to 24 bits but for rare ties.
 */
public final class Noise {
    /** Below this frequency the power density of pink noise is constant, so that its level does not depend on length. */
    public static final double PINK_LOWEST_HZ = 5;

    /** Half an octave in ln f. */
    private static final double FADE = Math.log(Math.sqrt(2));

    private Noise() {}

    /** How the power is spread over frequency. */
    public enum Colour {
        /** The same power in every hertz. */
        WHITE,
        /** The same power in every octave. */
        PINK
    }

    /**
     * White Gaussian noise.
     *
     * @param frames number of samples
     * @param rms root mean square of the distribution, relative to full scale; samples are not limited to ±1
     * @param seed any number; the same seed gives the same noise
     */
    public static double[] whiteGaussian(int frames, double rms, long seed) {
        Random random = new Random(seed);
        double[] x = new double[frames];
        for (int i = 0; i < frames; i++) {
            x[i] = rms * random.nextGaussian();
        }
        return x;
    }

    /**
     * Gaussian pink noise: power density falls with 1/f, 3.01 dB per octave, from {@link #PINK_LOWEST_HZ} to the Nyquist
     * frequency. White noise is shaped in the frequency domain by {@code 1/√f}; it has no direct component over the whole
     * block of a power of two from which it is cut.
     *
     * @param frames number of samples
     * @param rms root mean square of the samples returned, relative to full scale
     * @param sampleRate in hertz
     * @param seed any number; the same seed gives the same noise
     */
    public static double[] pink(int frames, double rms, double sampleRate, long seed) {
        if (frames == 0) {
            return new double[0];
        }
        int size = Math.max(2, Integer.highestOneBit(frames) == frames ? frames : Integer.highestOneBit(frames) << 1);
        double[] block = whiteGaussian(size, 1, seed);
        DoubleFFT_1D fft = new DoubleFFT_1D(size);
        fft.realForward(block);
        double lowestBin = PINK_LOWEST_HZ * size / sampleRate;
        block[0] = 0;
        block[1] /= Math.sqrt(size / 2.0);
        for (int k = 1; k < size / 2; k++) {
            double gain = 1 / Math.sqrt(Math.max(k, lowestBin));
            block[2 * k] *= gain;
            block[2 * k + 1] *= gain;
        }
        fft.realInverse(block, true);
        double sum = 0;
        for (int i = 0; i < frames; i++) {
            sum += block[i] * block[i];
        }
        double scale = sum > 0 ? rms / Math.sqrt(sum / frames) : 0;
        double[] x = new double[frames];
        for (int i = 0; i < frames; i++) {
            x[i] = scale * block[i];
        }
        return x;
    }

    /**
     * One period of noise of an even spectrum within a band, that joins its own beginning when it is repeated.
     *
     * <p>{@code x = IDFT{a(f)·e^(jφ)}} with φ random and independent from bin to bin. The amplitude a is constant (white) or
     * falls with 1/√f (pink) between the ends of the band, and fades as a raised cosine in ln f over half an octave beyond
     * them. Samples are close to normally distributed. Unlike noise whose amplitudes are random too, it has no weak bins: a
     * take can be divided by it everywhere.
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
