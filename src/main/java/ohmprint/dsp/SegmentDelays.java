package ohmprint.dsp;

import java.util.ArrayList;
import java.util.Arrays;
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
        double[] y = Arrays.copyOf(recording, n);
        fft.forward(y);
        List<Segment> out = new ArrayList<>();
        for (int p = 0; p < parts; p++) {
            int start = p * length;
            double[] x = part(fft, sound, start, length);
            double width = width(fft, x, sampleRate);
            if (width > 0) {
                double[] c = correlation(fft, x, y);
                PhaseTransform.Peak peak = PhaseTransform.Peak.of(c, n);
                long lag = peak.at() > n / 2 ? peak.at() - n : peak.at();
                out.add(new Segment(start / sampleRate, lag - start, peak.prominence(), width));
            }
        }
        return out;
    }

    /**
     * Finds the parts near a delay that is known, each in a stretch of the recording of its own, so that many short parts
     * cost little. Prominence is that among the lags looked at.
     *
     * @param sound what was played
     * @param recording one channel of what was recorded; silence is taken for what lies outside of it
     * @param sampleRate of both, hertz
     * @param parts number of parts of equal length, 1 or more
     * @param delayFrames by how much later the sound lies in the recording, samples
     * @param reachFrames how far from that each part is looked for, samples to either side
     * @return one entry for each part that is not silent
     */
    public static List<Segment> near(
            double[] sound, double[] recording, double sampleRate, int parts, long delayFrames, int reachFrames) {
        int length = sound.length / parts;
        int lags = 2 * reachFrames + 1;
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(2L * length + lags));
        List<Segment> out = new ArrayList<>();
        for (int p = 0; p < parts; p++) {
            int start = p * length;
            double[] x = part(fft, sound, start, length);
            double width = width(fft, x, sampleRate);
            if (width > 0) {
                double[] y = new double[fft.length()];
                long first = start + delayFrames - reachFrames;
                int from = (int) Math.max(0, Math.min(recording.length, first));
                int to = (int) Math.max(from, Math.min(recording.length, first + length + lags - 1));
                System.arraycopy(recording, from, y, from == to ? 0 : (int) (from - first), to - from);
                fft.forward(y);
                double[] c = correlation(fft, x, y);
                PhaseTransform.Peak peak = PhaseTransform.Peak.of(c, lags);
                out.add(new Segment(
                        start / sampleRate, delayFrames - reachFrames + peak.at(), peak.prominence(), width));
            }
        }
        return out;
    }

    /** Spectrum of a part of the sound. */
    private static double[] part(RealFourier fft, double[] sound, int from, int length) {
        double[] x = new double[fft.length()];
        System.arraycopy(sound, from, x, 0, length);
        fft.forward(x);
        return x;
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

    private static double[] correlation(RealFourier fft, double[] x, double[] y) {
        double[] c = new double[fft.length()];
        for (int i = 1; i < fft.length() / 2; i++) {
            c[2 * i] = x[2 * i] * y[2 * i] + x[2 * i + 1] * y[2 * i + 1];
            c[2 * i + 1] = x[2 * i] * y[2 * i + 1] - x[2 * i + 1] * y[2 * i];
        }
        fft.inverse(c);
        return c;
    }
}
