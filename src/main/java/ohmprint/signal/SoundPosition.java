package ohmprint.signal;

import java.util.Arrays;

/**
 * Where a sound may lie in a recording: the phase-transform correlation of {@link PhaseTransform} at every lag.
 *
 * <p>The excerpt is compared at lags from minus its own length to the length of the recording, in whole samples.
 */
public final class SoundPosition {
    private final double[] correlation;
    private final int offset;
    private final double rms;

    private SoundPosition(double[] correlation, int offset, double rms) {
        this.correlation = correlation;
        this.offset = offset;
        this.rms = rms;
    }

    /**
     * Correlates.
     *
     * @param excerpt what is looked for
     * @param recording where it is looked for
     * @param sampleRate of both, hertz
     */
    public static SoundPosition of(double[] excerpt, double[] recording, double sampleRate) {
        int n = RealFourier.lengthFor((long) excerpt.length + recording.length);
        RealFourier fft = RealFourier.ofLength(n);
        double[] x = Arrays.copyOf(excerpt, n);
        double[] y = new double[n];
        System.arraycopy(recording, 0, y, excerpt.length, recording.length);
        fft.forward(x);
        fft.forward(y);
        double[] c = PhaseTransform.correlation(x, y, n, 1, PhaseTransform.WIDE_SHARE, sampleRate);
        int steps = excerpt.length + recording.length;
        double energy = 0;
        for (int i = 0; i < steps; i++) {
            energy += c[i] * c[i];
        }
        return new SoundPosition(Arrays.copyOf(c, steps), excerpt.length, Math.sqrt(energy / steps));
    }

    /** Frame of the recording at which the excerpt most likely begins; may be negative. */
    public int best() {
        return best(-offset, correlation.length - offset);
    }

    /** The same among the frames {@code [from, to)}; the nearest possible frame when there are none. */
    public int best(int from, int to) {
        int top = Math.min(correlation.length - 1, Math.max(0, from + offset));
        for (int i = top; i < Math.min(correlation.length, to + offset); i++) {
            top = Math.abs(correlation[i]) > Math.abs(correlation[top]) ? i : top;
        }
        return top - offset;
    }

    /** Height of the correlation at a frame over its root mean square; 0 outside and for silence. */
    public double prominence(int frame) {
        int i = frame + offset;
        return i < 0 || i >= correlation.length || !(rms > 0) ? 0 : Math.abs(correlation[i]) / rms;
    }
}
