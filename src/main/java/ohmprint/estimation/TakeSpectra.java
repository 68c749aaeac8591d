package ohmprint.estimation;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.dsp.PhaseTransform.CircularLag;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.dsp.Windows;

/**
 * Spectra of whole takes, each read and transformed once: what alignment and the stimulus route share when takes are
 * short enough to be held in memory.
 */
public final class TakeSpectra {
    /** Longest take that is held where nothing else serves, as for dividing by a stimulus, frames. */
    public static final int LONGEST = 1 << 22;

    /** Longest take that is held for convenience; longer ones are streamed, frames. */
    public static final int MODERATE = 1 << 20;

    /** Longest fade at the ends of a take. */
    private static final double FADE_SECONDS = 0.25;

    private final List<TakeRecording> takes;
    private final double sampleRate;
    private final RealFourier fft;
    private final double[][] spectra;
    private final long[] frames;

    private TakeSpectra(
            List<TakeRecording> takes, double sampleRate, RealFourier fft, double[][] spectra, long[] frames) {
        this.takes = takes;
        this.sampleRate = sampleRate;
        this.fft = fft;
        this.spectra = spectra;
        this.frames = frames;
    }

    /**
     * Reads and transforms all takes.
     *
     * @param takes takes of at most {@link #LONGEST} frames and of one sample rate
     * @param sampleRate sample rate in hertz
     * @param atLeast frames that the transforms must hold at least, for a stimulus
     * @throws IOException if a take cannot be read
     */
    public static TakeSpectra of(List<TakeRecording> takes, double sampleRate, int atLeast) throws IOException {
        long[] frames = new long[takes.size()];
        for (int k = 0; k < frames.length; k++) {
            try (SampleSource source = takes.get(k).opener().open()) {
                frames[k] = source.frames();
            }
        }
        long longest = Arrays.stream(frames).max().orElse(0);
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(Math.max(atLeast, longest)));
        double[][] spectra = Parallel.map(takes, take -> spectrum(fft, take, sampleRate), double[][]::new);
        return new TakeSpectra(takes, sampleRate, fft, spectra, frames);
    }

    /** Transforms takes whose samples are at hand; parameters as above, one array of samples per take. */
    static TakeSpectra ofSamples(List<TakeRecording> takes, double sampleRate, int atLeast, double[][] samples)
            throws IOException {
        long[] frames = Arrays.stream(samples).mapToLong(s -> s.length).toArray();
        long longest = Arrays.stream(frames).max().orElse(0);
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(Math.max(atLeast, longest)));
        double[][] spectra = Parallel.map(Arrays.asList(samples), s -> spectrum(fft, s), double[][]::new);
        return new TakeSpectra(takes, sampleRate, fft, spectra, frames);
    }

    /** Transforms one period per take, all of the same length: the spectra are those of a sound without end. */
    static TakeSpectra ofPeriods(List<TakeRecording> takes, double sampleRate, double[][] periods) throws IOException {
        RealFourier fft = RealFourier.ofPeriod(periods[0].length);
        double[][] spectra = Parallel.map(Arrays.asList(periods), s -> spectrum(fft, s), double[][]::new);
        long[] endless = new long[periods.length];
        Arrays.fill(endless, Long.MAX_VALUE);
        return new TakeSpectra(takes, sampleRate, fft, spectra, endless);
    }

    private static double[] spectrum(RealFourier fft, TakeRecording take, double sampleRate) throws IOException {
        double[] x = new double[fft.length()];
        long frames;
        try (SampleSource source = take.opener().open()) {
            frames = Math.min(source.frames(), x.length);
            Samples.fill(x, source, take.channel());
        }
        fade(x, take, frames, sampleRate);
        fft.forward(x);
        return x;
    }

    /**
     * Fades both ends of a take within its silence. A tone that is cut off rings at all frequencies, and divided by a stimulus the
     * two cuts lie where an impulse response may still be.
     */
    private static void fade(double[] x, TakeRecording take, long frames, double sampleRate) {
        long most = (long) (FADE_SECONDS * sampleRate);
        double[] in = Windows.fadeOut((int) Math.min(most, take.soundStart() / 2));
        double[] out = Windows.fadeOut((int) Math.min(most, Math.max(0, frames - take.soundEnd()) / 2));
        for (int i = 0; i < in.length; i++) {
            x[i] *= in[in.length - 1 - i];
        }
        int at = (int) frames - out.length;
        for (int i = 0; i < out.length; i++) {
            x[at + i] *= out[i];
        }
    }

    private static double[] spectrum(RealFourier fft, double[] samples) {
        double[] x = Arrays.copyOf(samples, fft.length());
        fft.forward(x);
        return x;
    }

    /** Number of takes. */
    public int size() {
        return takes.size();
    }

    TakeRecording take(int k) {
        return takes.get(k);
    }

    RealFourier transform() {
        return fft;
    }

    double sampleRate() {
        return sampleRate;
    }

    /** Frames of take {@code k}; the largest number for a period of a sound without end. */
    long frames(int k) {
        return frames[k];
    }

    /** Packed spectrum of take {@code k}; not to be changed. */
    double[] spectrum(int k) {
        return spectra[k];
    }

    /** The same spectra for some of the takes. */
    public TakeSpectra only(int[] kept) {
        return new TakeSpectra(
                Arrays.stream(kept).mapToObj(takes::get).toList(),
                sampleRate,
                fft,
                Arrays.stream(kept).mapToObj(k -> spectra[k]).toArray(double[][]::new),
                Arrays.stream(kept).mapToLong(k -> frames[k]).toArray());
    }

    /**
     * Position of every take's sound behind that of a pivot, by their cross-correlation; of the two lags that a circular
     * correlation cannot tell apart, the one that agrees with the onsets.
     *
     * @param pivot index of the pivot
     */
    public Alignment align(int pivot) {
        CircularLag[] found = IntStream.range(0, takes.size())
                .parallel()
                .mapToObj(k -> k == pivot
                        ? new CircularLag(0, fft.length(), Double.POSITIVE_INFINITY)
                        : CircularLag.of(spectra[pivot], spectra[k], fft.length(), sampleRate))
                .toArray(CircularLag[]::new);
        long[] lags = new long[found.length];
        double[] prominence = new double[found.length];
        for (int k = 0; k < found.length; k++) {
            long onset = takes.get(k).soundStart() - takes.get(pivot).soundStart();
            lags[k] = found[k].nearest(onset);
            prominence[k] = found[k].prominence();
        }
        return new Alignment(pivot, lags, prominence);
    }
}
