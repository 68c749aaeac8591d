package ohmprint.estimate;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import ohmprint.signal.CircularLag;
import ohmprint.signal.RealFourier;
import ohmprint.signal.SweepPace;
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
    /** Longest stretch of an impulse response that its harmonic is compared over, seconds. */
    private static final double HARMONIC_SECONDS = 0.05;
    /** The same as a share of the sweep's pace: the next harmonic must not reach in. */
    private static final double HARMONIC_SHARE = 0.1;
    /** A third harmonic counts when it stands out of what lies beside it by this power ratio. */
    private static final double STANDS_OUT = 4;

    private final double[] stimulus;
    private double[] spectrum = new double[0];
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

    /** Spectrum of the stimulus in transforms of the takes' length, computed once. */
    private double[] spectrum(RealFourier fft) {
        if (spectrum.length != fft.length()) {
            spectrum = Arrays.copyOf(stimulus, fft.length());
            fft.forward(spectrum);
        }
        return spectrum;
    }

    /** Number of samples of the stimulus. */
    public int length() {
        return stimulus.length;
    }

    /**
     * Where the stimulus begins in a take.
     *
     * @param takes spectra of whole takes
     * @param k index of the take
     */
    public CircularLag locate(WholeTakes takes, int k) {
        RealFourier fft = takes.transform();
        return CircularLag.of(spectrum(fft), takes.spectrum(k), fft.length(), sampleRate);
    }

    /**
     * Spectra of the gated impulse responses of all takes, and how much of a third harmonic there is in them.
     *
     * @param takes spectra of whole takes, of transforms that hold the stimulus, or of one period of a repeated one
     * @param starts frame at which the stimulus begins in each
     */
    public Observed observe(WholeTakes takes, long[] starts) {
        RealFourier fft = takes.transform();
        double[] x = spectrum(fft);
        StimulusPower power = power(fft, x);
        int wanted = RealFourier.lengthFor((long) Math.ceil(GATE_SECONDS * sampleRate));
        double[] gate = gate(Math.min(wanted, Integer.highestOneBit(fft.length())));
        OptionalDouble pace = SweepPace.secondsPerNeper(stimulus, sampleRate);
        double[][] spectra = new double[takes.size()][];
        double[] third = new double[pace.isPresent() ? takes.size() : 0];
        // One array per processor, not per take: they are the largest of a measurement.
        int lanes = Math.min(takes.size(), Runtime.getRuntime().availableProcessors());
        IntStream.range(0, lanes).parallel().forEach(lane -> {
            double[] response = new double[fft.length()];
            for (int k = lane; k < takes.size(); k += lanes) {
                System.arraycopy(takes.spectrum(k), 0, response, 0, response.length);
                toImpulseResponse(fft, x, power, response);
                spectra[k] = gatedSpectrum(response, starts[k], gate);
                if (pace.isPresent()) {
                    third[k] = thirdHarmonic(response, starts[k], pace.getAsDouble());
                }
            }
        });
        return new Observed(assemble(takes, spectra, power, fft.length(), gate), third);
    }

    /**
     * What a stimulus shows.
     *
     * @param bins spectra of the gated impulse responses of the takes
     * @param thirdHarmonic of each take, relative to its fundamental, as an amplitude ratio over all that the stimulus
     *     holds; 0 where it does not stand out of the noise, none at all for a stimulus that is no sweep
     */
    public record Observed(BinObservations bins, double[] thirdHarmonic) {}

    private StimulusPower power(RealFourier fft, double[] x) {
        return new StimulusPower(x, fft.length(), (int) (fromHz * fft.length() / sampleRate), (int)
                Math.min(fft.length() / 2 - 1, toHz * fft.length() / sampleRate));
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

    private double[] gatedSpectrum(double[] response, long start, double[] gate) {
        double[] cut = new double[gate.length];
        long first = start - (long) (PRE_SECONDS * sampleRate);
        for (int i = 0; i < cut.length; i++) {
            cut[i] = gate[i] * response[(int) Math.floorMod(first + i, (long) response.length)];
        }
        RealFourier.ofLength(cut.length).forward(cut);
        return cut;
    }

    /** Turns the packed spectrum of a take into its response to the stimulus, in place. */
    private static void toImpulseResponse(RealFourier fft, double[] x, StimulusPower power, double[] y) {
        int n = fft.length();
        for (int i = 1; i < n / 2; i++) {
            double re = x[2 * i];
            double im = x[2 * i + 1];
            double mean = power.at(i);
            double d = mean == 0 ? 0 : 1 / (re * re + im * im + REGULARISATION * mean);
            double a = y[2 * i];
            double b = y[2 * i + 1];
            y[2 * i] = (a * re + b * im) * d;
            y[2 * i + 1] = (b * re - a * im) * d;
        }
        y[0] = 0;
        y[1] = 0;
        y[n - 1] = n % 2 == 0 ? y[n - 1] : 0;
        fft.inverse(y);
    }

    /**
     * Third harmonic relative to the fundamental: with a sweep it lies {@code L·ln 3} before the impulse response. A chain
     * whose curvature is cubic loses three times as much of the fundamental: {@code x − a·x³} of amplitude A holds
     * A·(1 − ¾aA²) and aA³/4.
     */
    private double thirdHarmonic(double[] response, long start, double pace) {
        double fundamental = energy(response, start, 0, pace);
        double third = energy(response, start, Math.log(3), pace);
        double beside = energy(response, start, Math.log(3.5), pace);
        return third > STANDS_OUT * beside ? Math.sqrt((third - beside) / fundamental) : 0;
    }

    /** Energy of a faded stretch of the response within the range. */
    private double energy(double[] response, long start, double nepers, double pace) {
        int length = (int) (Math.min(HARMONIC_SECONDS, HARMONIC_SHARE * pace) * sampleRate);
        int before = length / 10;
        long from = start - Math.round(nepers * pace * sampleRate) - before;
        double[] fade = Windows.fadeOut(length / 4);
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(length));
        double[] cut = new double[fft.length()];
        for (int i = 0; i < length; i++) {
            double in = i < before ? (i + 0.5) / before : 1;
            double out = length - 1 - i < fade.length ? fade[fade.length - length + i] : 1;
            cut[i] = in * out * response[(int) Math.floorMod(from + i, (long) response.length)];
        }
        fft.forward(cut);
        double sum = 0;
        int end = (int) Math.min(fft.length() / 2.0, toHz * fft.length() / sampleRate);
        for (int i = Math.max(1, (int) Math.ceil(fromHz * fft.length() / sampleRate)); i < end; i++) {
            sum += cut[2 * i] * cut[2 * i] + cut[2 * i + 1] * cut[2 * i + 1];
        }
        return sum;
    }

    private BinObservations assemble(WholeTakes takes, double[][] spectra, StimulusPower power, int n, double[] gate) {
        int m = gate.length;
        double energy = 0;
        double fourth = 0;
        for (double g : gate) {
            energy += g * g;
            fourth += g * g * g * g;
        }
        int first = Math.max(1, (int) Math.floor(fromHz * m / sampleRate));
        int last = Math.min(m / 2 - 1, (int) Math.ceil(toHz * m / sampleRate));
        int[] bins = IntStream.rangeClosed(first, last)
                .filter(i -> power.at((int) ((long) i * n / m)) > 0)
                .toArray();
        double[] hz = Arrays.stream(bins).mapToDouble(i -> i * sampleRate / m).toArray();
        BinObservations obs = new BinObservations(takes.size(), hz, energy * energy / (m * fourth));
        double[] re = new double[takes.size()];
        double[] im = new double[takes.size()];
        for (int b = 0; b < bins.length; b++) {
            double mean = power.at((int) ((long) bins[b] * n / m));
            for (int k = 0; k < re.length; k++) {
                re[k] = spectra[k][2 * bins[b]];
                im[k] = spectra[k][2 * bins[b] + 1];
                obs.setNoise(b, k, 0.5 * takes.take(k).noise().applyAsDouble(hz[b]) * sampleRate * energy / mean);
            }
            obs.setSnapshot(b, re, im);
        }
        return obs;
    }
}
