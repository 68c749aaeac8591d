package ohmprint.estimation;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import ohmprint.dsp.RealFourier;

/**
 * A stimulus file as a sound that is repeated: where its first copy begins, how far apart the copies are, how many.
 *
 * <p>Copies are recognised when they are equal to within {@value #TOLERANCE} of the highest sample. A file without copies
 * counts as one copy as long as the file; it may still be played in a loop.
 *
 * @param samples the whole file; not to be changed
 * @param first first frame that sounds
 * @param end frame after the last that sounds
 * @param period frames from one copy to the next; the length of the file when there is one
 * @param copies number of copies
 */
public record StimulusPattern(double[] samples, int first, int end, int period, int copies) {
    private static final double TOLERANCE = 1e-3;
    private static final double SILENT = 1e-3;
    private static final int CELLS_PER_OCTAVE = 12;
    private static final int WINDOW = 64;
    /** Shortest distance of copies, frames: what is closer together belongs to one sound. */
    private static final int SHORTEST = 1 << 14;
    /** Share of the whole power that must lie in what is said to be repeated. */
    private static final double REPEATED_SHARE = 0.3;

    /** Looks for copies. */
    public static StimulusPattern of(double[] samples) {
        int top = 0;
        for (int i = 1; i < samples.length; i++) {
            top = Math.abs(samples[i]) > Math.abs(samples[top]) ? i : top;
        }
        double peak = samples.length == 0 ? 0 : Math.abs(samples[top]);
        int first = 0;
        int end = samples.length;
        while (first < end && Math.abs(samples[first]) <= SILENT * peak) {
            first++;
        }
        while (end > first && Math.abs(samples[end - 1]) <= SILENT * peak) {
            end--;
        }
        for (int away = SHORTEST; away < end - first; away++) {
            if (alike(samples, top, top + away, peak) && repeats(samples, first, end, away, peak)) {
                return new StimulusPattern(samples, first, end, away, (end - first + away - 1) / away);
            }
            if (alike(samples, top, top - away, peak) && repeats(samples, first, end, away, peak)) {
                return new StimulusPattern(samples, first, end, away, (end - first + away - 1) / away);
            }
        }
        return new StimulusPattern(samples, first, end, samples.length, 1);
    }

    private static boolean alike(double[] x, int a, int b, double peak) {
        for (int i = 0; i < WINDOW; i++) {
            int p = a + (i % 2 == 0 ? i / 2 : -(i + 1) / 2);
            int q = b + p - a;
            if (p < 0 || q < 0 || p >= x.length || q >= x.length || Math.abs(x[p] - x[q]) > TOLERANCE * peak) {
                return false;
            }
        }
        return true;
    }

    private static boolean repeats(double[] x, int first, int end, int away, double peak) {
        double repeated = 0;
        double all = 0;
        for (int i = first; i < end; i++) {
            double square = x[i] * x[i];
            all += square;
            if (i + away < end) {
                if (Math.abs(x[i] - x[i + away]) > TOLERANCE * peak) {
                    return false;
                }
                repeated += square;
            }
        }
        return repeated > REPEATED_SHARE * all;
    }

    /** One period, beginning where the sound does; of a file without copies the file itself. */
    double[] unit() {
        return copies == 1
                ? samples.clone()
                : Arrays.copyOf(Arrays.copyOfRange(samples, first, Math.min(samples.length, first + period)), period);
    }

    /**
     * When the sound passes a frequency, for a sweep: its group delay {@code Re{FFT(n·x)·X*}/|X|²}, averaged by power over
     * twelfths of an octave and interpolated between them.
     *
     * @param sampleRate hertz
     * @return seconds from the start of the file against frequency in hertz
     */
    public DoubleUnaryOperator passing(double sampleRate) {
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(samples.length));
        int n = fft.length();
        double[] x = Arrays.copyOf(samples, n);
        double[] nx = Arrays.copyOf(samples, n);
        for (int i = 0; i < samples.length; i++) {
            nx[i] *= i / sampleRate;
        }
        fft.forward(x);
        fft.forward(nx);
        int cells = 1 + (int) (CELLS_PER_OCTAVE * Math.log(n / 2.0) / Math.log(2));
        double[] moment = new double[cells];
        double[] power = new double[cells];
        for (int i = 1; i < n / 2; i++) {
            int cell = (int) (CELLS_PER_OCTAVE * Math.log(i) / Math.log(2));
            power[cell] += x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
            moment[cell] += x[2 * i] * nx[2 * i] + x[2 * i + 1] * nx[2 * i + 1];
        }
        double[] seconds = new double[cells];
        for (int c = 0; c < cells; c++) {
            seconds[c] = power[c] > 0 ? moment[c] / power[c] : c > 0 ? seconds[c - 1] : 0;
        }
        return hz -> {
            double at = CELLS_PER_OCTAVE * Math.log(Math.max(1, hz * n / sampleRate)) / Math.log(2) - 0.5;
            int c = (int) Math.max(0, Math.min(cells - 2, Math.floor(at)));
            double part = Math.min(1, Math.max(0, at - c));
            return seconds[c] + part * (seconds[c + 1] - seconds[c]);
        };
    }

    /** Frames of one copy that sound. */
    int sounding() {
        return end - first - (copies - 1) * period;
    }

    /** Number of frames of the file. */
    public int frames() {
        return samples.length;
    }

    /** First frame of copy {@code c}'s sound. */
    int copyAt(int c) {
        return first + c * period;
    }
}
