package ohmprint.dsp;

import java.util.Arrays;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * What a recorder with another clock makes of a sound: the same trigonometric polynomial at other instants, by adding or
 * removing bins at the top of its spectrum. Nothing of the project's own interpolation is used.
 */
public final class OtherClock {
    /** Length of the transforms: at it every whole number of parts per million is a whole number of samples. */
    private static final int FRAMES = 1_000_000;

    private OtherClock() {}

    /**
     * The sound as recorded.
     *
     * @param x at most 10⁶ samples
     * @param ppm by how much the recorder's clock is faster, a whole number of parts per million
     * @param late start of the sound, fraction of a sample later
     */
    public static double[] recorded(double[] x, int ppm, double late) {
        double[] spectrum = Arrays.copyOf(x, FRAMES);
        new DoubleFFT_1D(FRAMES).realForward(spectrum);
        int frames = FRAMES + ppm;
        double[] other = new double[frames];
        int top = Math.min(FRAMES, frames) / 2 - 2;
        other[0] = spectrum[0];
        for (int i = 1; i < top; i++) {
            double turn = -2 * Math.PI * i * late / frames;
            double c = Math.cos(turn);
            double s = Math.sin(turn);
            other[2 * i] = spectrum[2 * i] * c - spectrum[2 * i + 1] * s;
            other[2 * i + 1] = spectrum[2 * i] * s + spectrum[2 * i + 1] * c;
        }
        new DoubleFFT_1D(frames).realInverse(other, true);
        double ratio = (double) frames / FRAMES;
        double[] out = Arrays.copyOf(other, (int) Math.min(frames, Math.floor(x.length * ratio)));
        for (int i = 0; i < out.length; i++) {
            out[i] *= ratio;
        }
        return out;
    }
}
