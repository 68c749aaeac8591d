package ohmprint.signal;

import java.util.ArrayList;
import java.util.List;

/**
 * Delays of successive parts of a sound in a recording of it: a recording or playback that was interrupted shows parts
 * with different delays.
 *
 * <p>Each part is correlated with the whole recording, {@code c(l) = Σ x_n·y_(n+l)}; its delay is where |c| is highest.
 * What a room, a loudspeaker or a source impedance does to a part shifts that by the order of the part's correlation
 * width, {@code 1/(2π·B)} with B the root-mean-square width of its spectrum about its centre.
 */
public final class SegmentDelays {
    private SegmentDelays() {}

    /**
     * The delay of one part.
     *
     * @param startSeconds where the part begins in the sound
     * @param delayFrames by how much later it lies in the recording than in the sound, samples
     * @param prominence height of the peak over the root mean square of the correlation
     * @param widthSeconds correlation width of the part
     */
    public record Segment(double startSeconds, long delayFrames, double prominence, double widthSeconds) {}

    /**
     * Finds the parts.
     *
     * @param sound what was played
     * @param recording one channel of what was recorded, not shorter than a part
     * @param sampleRate of both, hertz
     * @param parts number of parts of equal length, 1 or more
     * @return one entry for each part that is not silent
     */
    public static List<Segment> of(double[] sound, double[] recording, double sampleRate, int parts) {
        int length = sound.length / parts;
        int n = RealFourier.lengthFor((long) recording.length + length);
        RealFourier fft = RealFourier.ofLength(n);
        double[] y = new double[n];
        System.arraycopy(recording, 0, y, 0, recording.length);
        fft.forward(y);
        List<Segment> out = new ArrayList<>();
        for (int p = 0; p < parts; p++) {
            double[] x = new double[n];
            System.arraycopy(sound, p * length, x, 0, length);
            fft.forward(x);
            double width = width(fft, x, sampleRate);
            if (width > 0) {
                out.add(find(fft, x, y, p * length, sampleRate, width));
            }
        }
        return out;
    }

    /** Correlation width of a part in seconds; 0 when it is silent. */
    private static double width(RealFourier fft, double[] x, double sampleRate) {
        double power = 0;
        double first = 0;
        double second = 0;
        double binHz = sampleRate / fft.length();
        for (int i = 1; i < fft.length() / 2; i++) {
            double p = x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
            double hz = i * binHz;
            power += p;
            first += p * hz;
            second += p * hz * hz;
        }
        if (!(power > 0)) {
            return 0;
        }
        double mean = first / power;
        return 1 / (2 * Math.PI * Math.sqrt(Math.max(binHz * binHz, second / power - mean * mean)));
    }

    private static Segment find(RealFourier fft, double[] x, double[] y, int start, double sampleRate, double width) {
        int n = fft.length();
        double[] c = new double[n];
        for (int i = 1; i < n / 2; i++) {
            c[2 * i] = x[2 * i] * y[2 * i] + x[2 * i + 1] * y[2 * i + 1];
            c[2 * i + 1] = x[2 * i] * y[2 * i + 1] - x[2 * i + 1] * y[2 * i];
        }
        fft.inverse(c);
        int best = 0;
        double square = 0;
        for (int i = 0; i < n; i++) {
            square += c[i] * c[i];
            if (Math.abs(c[i]) > Math.abs(c[best])) {
                best = i;
            }
        }
        long lag = best > n / 2 ? best - n : best;
        double rms = Math.sqrt(square / n);
        return new Segment(start / sampleRate, lag - start, rms > 0 ? Math.abs(c[best]) / rms : 0, width);
    }
}
