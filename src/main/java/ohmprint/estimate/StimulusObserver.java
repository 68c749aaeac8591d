package ohmprint.estimate;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.signal.LagSearch;
import ohmprint.signal.RealFourier;
import ohmprint.signal.SampleSource;
import ohmprint.signal.Samples;
import ohmprint.signal.Windows;

/**
 * Stimulus route: each take is divided by the known stimulus and its impulse response cut out.
 *
 * <p>{@code D_k = FFT{gate·IFFT[Y_k·X*∕(|X|² + ε)]}}, where the gate starts {@value #PRE_SECONDS} s before the direct
 * sound, lasts at least {@value #GATE_SECONDS} s and ends in a fade. All takes are cut alike, so that what the gate
 * loses is the same factor in each and drops out; what it gains is noise that lay elsewhere in time. ε is 3 % of the
 * local mean of |X|², against the deep notches of a noise stimulus. Noise of density N (full scale²/Hz) becomes
 * {@code ½·N·f_s·Σgate²∕|X|²} per bin.
 */
public final class StimulusObserver {
    private static final double PRE_SECONDS = 0.2;
    private static final double GATE_SECONDS = 1.0;
    private static final double FADE_SHARE = 0.25;
    private static final double REGULARISATION = 0.03;
    private static final double SMOOTHING = 0.03;
    private static final double STIMULUS_FLOOR = 1e-3;
    private static final int EXCERPT = 1 << 19;

    private final double[] stimulus;
    private final double sampleRate;
    private final double fromHz;
    private final double toHz;

    /**
     * An observer for one stimulus.
     *
     * @param stimulus samples of the stimulus
     * @param sampleRate sample rate in hertz, that of the takes too
     * @param fromHz lowest frequency of interest, hertz
     * @param toHz highest frequency of interest, hertz
     */
    public StimulusObserver(double[] stimulus, double sampleRate, double fromHz, double toHz) {
        this.stimulus = stimulus.clone();
        this.sampleRate = sampleRate;
        this.fromHz = fromHz;
        this.toHz = toHz;
    }

    /**
     * Where the stimulus begins in a take.
     *
     * @throws IOException if the take cannot be read
     */
    public LagSearch locate(TakeRecording take) throws IOException {
        double[] excerpt = stimulus.length <= EXCERPT ? stimulus : Arrays.copyOf(stimulus, EXCERPT);
        try (SampleSource source = take.opener().open()) {
            return LagSearch.find(excerpt, source, take.channel());
        }
    }

    /**
     * Spectra of the gated impulse responses of all takes.
     *
     * @param takes the takes
     * @param starts frame at which the stimulus begins in each
     * @throws IOException if a take cannot be read
     */
    public BinObservations observe(List<TakeRecording> takes, long[] starts) throws IOException {
        double[][] recorded = Parallel.map(takes, StimulusObserver::samples, double[][]::new);
        int longest = Math.max(
                stimulus.length,
                Arrays.stream(recorded).mapToInt(r -> r.length).max().orElse(0));
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(longest));
        double[] x = Arrays.copyOf(stimulus, fft.length());
        fft.forward(x);
        double[] local = localPower(x, fft.length());
        int gateLength = RealFourier.lengthFor((long) Math.ceil(GATE_SECONDS * sampleRate));
        double[] gate = gate(gateLength);
        List<Integer> order =
                java.util.stream.IntStream.range(0, takes.size()).boxed().toList();
        double[][] spectra =
                Parallel.map(order, k -> gatedSpectrum(fft, x, local, recorded[k], starts[k], gate), double[][]::new);
        return assemble(takes, spectra, local, fft.length(), gate);
    }

    private static double[] samples(TakeRecording take) throws IOException {
        try (SampleSource source = take.opener().open()) {
            return Samples.channel(source, take.channel(), Integer.MAX_VALUE);
        }
    }

    private double[] gate(int length) {
        double[] gate = new double[length];
        Arrays.fill(gate, 1);
        double[] in = Windows.fadeOut((int) (PRE_SECONDS * sampleRate * 0.95));
        double[] out = Windows.fadeOut((int) (FADE_SHARE * length));
        for (int i = 0; i < in.length; i++) {
            gate[i] = in[in.length - 1 - i];
        }
        System.arraycopy(out, 0, gate, length - out.length, out.length);
        return gate;
    }

    /** Mean of |X|² over a few per cent of frequency around each bin, by a running sum. */
    private double[] localPower(double[] x, int n) {
        double[] sum = new double[n / 2 + 1];
        for (int i = 1; i < n / 2; i++) {
            sum[i + 1] = sum[i] + x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
        }
        double[] local = new double[n / 2 + 1];
        for (int i = 1; i < n / 2; i++) {
            int reach = 2 + (int) (SMOOTHING * i);
            int a = Math.max(1, i - reach);
            int b = Math.min(n / 2, i + reach + 1);
            local[i] = (sum[b] - sum[a]) / (b - a);
        }
        double[] out = new double[n / 2 + 1];
        for (int i = 1; i < n / 2; i++) {
            double max = 0;
            for (double q = -1; q <= 1; q += 0.05)
                max = Math.max(max, local[(int) Math.min(n / 2 - 1, Math.max(1, i * Math.pow(1.5, q)))]);
            out[i] = local[i] < 0.03 * max ? 0 : local[i];
        }
        return out;
    }

    private double[] gatedSpectrum(
            RealFourier fft, double[] x, double[] local, double[] recorded, long start, double[] gate) {
        int n = fft.length();
        double[] y = Arrays.copyOf(recorded, n);
        fft.forward(y);
        double floor = STIMULUS_FLOOR * median(local, n);
        for (int i = 1; i < n / 2; i++) {
            double re = x[2 * i];
            double im = x[2 * i + 1];
            double d = local[i] < floor || local[i] == 0 ? 0 : 1 / (re * re + im * im + REGULARISATION * local[i]);
            double a = y[2 * i];
            double b = y[2 * i + 1];
            y[2 * i] = (a * re + b * im) * d;
            y[2 * i + 1] = (b * re - a * im) * d;
        }
        y[0] = 0;
        y[1] = 0;
        fft.inverse(y);
        double[] cut = new double[gate.length];
        long first = start - (long) (PRE_SECONDS * sampleRate);
        for (int i = 0; i < cut.length; i++) {
            cut[i] = gate[i] * y[(int) Math.floorMod(first + i, (long) n)];
        }
        RealFourier.ofLength(cut.length).forward(cut);
        return cut;
    }

    private double median(double[] local, int n) {
        int a = Math.max(1, (int) (fromHz * n / sampleRate));
        int b = Math.min(n / 2, (int) (toHz * n / sampleRate));
        double[] part = Arrays.copyOfRange(local, a, b);
        Arrays.sort(part);
        return part[part.length / 2];
    }

    private BinObservations assemble(
            List<TakeRecording> takes, double[][] spectra, double[] local, int n, double[] gate) {
        int m = gate.length;
        double energy = 0;
        double fourth = 0;
        for (double g : gate) {
            energy += g * g;
            fourth += g * g * g * g;
        }
        double floor = STIMULUS_FLOOR * median(local, n);
        int first = Math.max(1, (int) Math.floor(fromHz * m / sampleRate));
        int last = Math.min(m / 2 - 1, (int) Math.ceil(toHz * m / sampleRate));
        int[] bins = java.util.stream.IntStream.rangeClosed(first, last)
                .filter(i -> local[(int) ((long) i * n / m)] >= floor)
                .toArray();
        double[] hz = Arrays.stream(bins).mapToDouble(i -> i * sampleRate / m).toArray();
        BinObservations obs = new BinObservations(takes.size(), hz, energy * energy / (m * fourth));
        double[] re = new double[takes.size()];
        double[] im = new double[takes.size()];
        for (int b = 0; b < bins.length; b++) {
            double power = local[(int) ((long) bins[b] * n / m)];
            for (int k = 0; k < re.length; k++) {
                re[k] = spectra[k][2 * bins[b]];
                im[k] = spectra[k][2 * bins[b] + 1];
                obs.setNoise(b, k, 0.5 * takes.get(k).noise().applyAsDouble(hz[b]) * sampleRate * energy / power);
            }
            obs.setSnapshot(b, re, im);
        }
        return obs;
    }
}
