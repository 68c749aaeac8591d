package ohmprint.signal;

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

    private Noise() {}

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
     * White noise of uniform distribution between −peak and +peak; its root mean square is {@code peak/√3}.
     *
     * @param frames number of samples
     * @param peak bound of the samples, relative to full scale
     * @param seed any number; the same seed gives the same noise
     */
    public static double[] whiteUniform(int frames, double peak, long seed) {
        Random random = new Random(seed);
        double[] x = new double[frames];
        for (int i = 0; i < frames; i++) {
            x[i] = peak * (2 * random.nextDouble() - 1);
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
}
