package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.PhaseTransform.CircularLag;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.Windows;
import org.jspecify.annotations.Nullable;

/**
 * Stimulus route: each take is divided by the known stimulus and its impulse response cut out.
 *
 * <p>{@code D_k = FFT{gate·IFFT[Y_k·X*∕(|X|² + ε)]}}, where the gate starts {@value #PRE_SECONDS} s before the direct
 * sound, lasts at least {@value #GATE_SECONDS} s and ends in a fade. All takes are cut alike, so that what the gate
 * loses is the same factor in each and drops out; what it gains is noise that lay elsewhere in time. Below
 * {@value #FINE_BELOW_HZ} Hz the gate is longer, {@value #FINE_GATE_SECONDS} s where half the transform is as long: its bins
 * are as far apart as its inverse, and a resonance of Q 12 at 30 Hz is 2.5 Hz wide. That costs no precision, for there are as
 * many more bins in a band as each holds more noise. ε is 3 % of the
 * local mean of |X|², against the deep notches of a noise stimulus. Noise of density N (full scale²/Hz) becomes
 * {@code ½·N·f_s²∕f_g·Σgate²∕m·⟨|X|²·m∕(|X|² + ε)²⟩} per bin, with m the local mean of |X|² and f_g the
 * sample rate of the gate.
 *
 * <p>Where the stimulus has power, the gates and how much of their noise a take holds stand here too: nothing else asks for them.
 */
public final class StimulusObserver {
    private static final double PRE_SECONDS = 0.2;
    private static final double GATE_SECONDS = 1.0;
    private static final double FADE_SHARE = 0.25;
    /** Frequency below which the longer gate serves, hertz. */
    private static final double FINE_BELOW_HZ = 250;
    /** Frequency up to which the longer response is made: its band ends in a fade, so that it does not ring. */
    private static final double FINE_MADE_TO_HZ = 600;

    private static final double FINE_GATE_SECONDS = 5;
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
    public CircularLag locate(TakeSpectra takes, int k) {
        RealFourier fft = takes.transform();
        return CircularLag.of(spectrum(fft), takes.spectrum(k), fft.length(), sampleRate);
    }

    /**
     * Spectra of the gated impulse responses of all takes, and how much of a third harmonic there is in them.
     *
     * @param takes spectra of whole takes, of transforms that hold the stimulus, or of one period of a repeated one
     * @param starts frame at which the stimulus begins in each
     */
    public Observed observe(TakeSpectra takes, long[] starts) {
        RealFourier fft = takes.transform();
        double[] x = spectrum(fft);
        Power power = power(fft, x);
        Gate gate = new Gate(
                Math.min(
                        RealFourier.lengthFor((long) Math.ceil(GATE_SECONDS * sampleRate)),
                        Integer.highestOneBit(fft.length())),
                sampleRate);
        FineResponse fine = fromHz < FINE_BELOW_HZ ? FineResponse.of(fft.length(), sampleRate, gate) : null;
        OptionalDouble pace = ExponentialSweep.secondsPerNeper(stimulus, sampleRate);
        double[][] spectra = new double[takes.size()][];
        double[][] low = new double[takes.size()][];
        double[] third = new double[pace.isPresent() ? takes.size() : 0];
        // One array per processor, not per take: they are the largest of a measurement.
        int lanes = Math.min(takes.size(), Runtime.getRuntime().availableProcessors());
        IntStream.range(0, lanes).parallel().forEach(lane -> {
            double[] response = new double[fft.length()];
            for (int k = lane; k < takes.size(); k += lanes) {
                System.arraycopy(takes.spectrum(k), 0, response, 0, response.length);
                divide(fft.length(), x, power, response);
                if (fine != null) {
                    low[k] = fine.gatedSpectrum(response, starts[k]);
                }
                fft.inverse(response);
                spectra[k] = gatedSpectrum(response, starts[k], gate);
                if (pace.isPresent()) {
                    third[k] = thirdHarmonic(response, starts[k], pace.getAsDouble());
                }
            }
        });
        Assembly all = new Assembly(takes, power, fft.length(), new Overlap(takes, starts, pace, x, power));
        if (fine != null) {
            all.add(low, fine.gate, fromHz, Math.min(toHz, FINE_BELOW_HZ));
        }
        all.add(spectra, gate, fine == null ? fromHz : Math.max(fromHz, FINE_BELOW_HZ), toHz);
        return new Observed(all.observations(gate.averages()), third);
    }

    /**
     * What a stimulus shows.
     *
     * @param bins spectra of the gated impulse responses of the takes
     * @param thirdHarmonic of each take, relative to its fundamental, as an amplitude ratio over all that the stimulus
     *     holds; 0 where it does not stand out of the noise, none at all for a stimulus that is no sweep
     */
    public record Observed(BinObservations bins, double[] thirdHarmonic) {}

    private Power power(RealFourier fft, double[] x) {
        int n = fft.length();
        int first = (int) (fromHz * n / sampleRate);
        int last = (int) Math.min(n / 2 - 1, toHz * n / sampleRate);
        return new Power(x, n, first, last, REGULARISATION);
    }

    private double[] gatedSpectrum(double[] response, long start, Gate gate) {
        double[] cut = new double[gate.weight.length];
        long first = start - (long) (PRE_SECONDS * sampleRate);
        for (int i = 0; i < cut.length; i++) {
            cut[i] = gate.weight[i] * response[(int) Math.floorMod(first + i, (long) response.length)];
        }
        RealFourier.ofLength(cut.length).forward(cut);
        return cut;
    }

    /** Divides the packed spectrum of a take by that of the stimulus, in place. */
    private static void divide(int n, double[] x, Power power, double[] y) {
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
    }

    /** What an impulse response is multiplied by, beginning {@value #PRE_SECONDS} s before the direct sound. */
    private static final class Gate {
        private final double[] weight;
        private final double sampleRate;
        /** Share of the gate that is fade; energy and correlation of its bins depend on nothing else. */
        private final double fades;

        /** Running sums of the squares. */
        private final double[] squares;

        private double energy;
        private double fourth;

        Gate(int length, double sampleRate) {
            this(length, sampleRate, FADE_SHARE + PRE_SECONDS * 0.95 * sampleRate / length);
        }

        Gate(int length, double sampleRate, double fades) {
            this.weight = new double[length];
            this.sampleRate = sampleRate;
            this.fades = fades;
            Arrays.fill(weight, 1);
            double[] in = Windows.fadeOut((int) (PRE_SECONDS * sampleRate * 0.95));
            double[] out = Windows.fadeOut((int) (fades * length) - in.length);
            for (int i = 0; i < in.length; i++) {
                weight[i] = in[in.length - 1 - i];
            }
            System.arraycopy(out, 0, weight, length - out.length, out.length);
            squares = new double[length + 1];
            for (int i = 0; i < length; i++) {
                double square = weight[i] * weight[i];
                squares[i + 1] = squares[i] + square;
                fourth += square * square;
            }
            energy = squares[length];
        }

        /** Sum of the squares before a place, which may lie outside. */
        double until(double place) {
            return squares[(int) Math.max(0, Math.min(weight.length, place))];
        }

        double averages() {
            return energy * energy / (weight.length * fourth);
        }
    }

    /**
     * The low end of an impulse response at a low sample rate, so that a long stretch of it costs little: the first bins of
     * the long spectrum, turned back by a short transform, are the same seconds with fewer samples.
     */
    private record FineResponse(int made, int n, RealFourier fft, Gate gate) {
        /** Null where a transform of {@code n} samples has no room for a gate longer than the usual one. */
        static @Nullable FineResponse of(int n, double sampleRate, Gate usual) {
            double binHz = sampleRate / n;
            int made = (int) (FINE_MADE_TO_HZ / binHz);
            RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(2L * made + 2));
            double rate = fft.length() * binHz;
            int length = Math.min(RealFourier.lengthFor((long) Math.ceil(FINE_GATE_SECONDS * rate)), fft.length() / 2);
            return 2 * made >= n || length / rate < 1.5 * usual.weight.length / sampleRate
                    ? null
                    : new FineResponse(made, n, fft, new Gate(length, rate, usual.fades));
        }

        /** Packed spectrum of the gated response whose direct sound is at frame {@code start} of the long transform. */
        double[] gatedSpectrum(double[] divided, long start) {
            double[] low = new double[fft.length()];
            double[] fade = Windows.fadeOut(made / 2);
            double turn = 2 * Math.PI * start / n;
            for (int i = 1; i < made; i++) {
                double weight = i < made - fade.length ? 1 : fade[i - made + fade.length];
                double c = weight * Math.cos(turn * i);
                double s = weight * Math.sin(turn * i);
                low[2 * i] = divided[2 * i] * c - divided[2 * i + 1] * s;
                low[2 * i + 1] = divided[2 * i] * s + divided[2 * i + 1] * c;
            }
            fft.inverse(low);
            double[] cut = new double[gate.weight.length];
            int before = (int) (PRE_SECONDS * gate.sampleRate);
            for (int i = 0; i < cut.length; i++) {
                cut[i] = gate.weight[i] * low[Math.floorMod(i - before, low.length)];
            }
            RealFourier.ofLength(cut.length).forward(cut);
            return cut;
        }
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

    /**
     * How much of the gate's noise there is: the division gathers noise from many places of a take, and beyond the ends of the
     * take there is none. With a sweep the place is where the sound is at each frequency, so much later as the response is; with
     * other sounds they are told by the energy of the inverse filter {@code IFFT{√m·X*∕(|X|² + εm)}}, which rings.
     */
    private final class Overlap {
        private static final int STEP = 256;
        private static final double FROM_HZ = 900;
        private static final double TO_HZ = 1100;
        /** What is left at least, so that no noise is stated to be nothing. */
        private static final double LEAST = 0.05;

        private final TakeSpectra takes;
        private final long[] starts;
        private final OptionalDouble pace;
        private final double atOneKilohertz;
        /** Running sums of the inverse filter's squares in steps; of a sweep none. */
        private final double[] inverse;

        Overlap(TakeSpectra takes, long[] starts, OptionalDouble pace, double[] x, Power power) {
            this.takes = takes;
            this.starts = starts;
            this.pace = pace;
            this.atOneKilohertz = pace.isPresent() ? passing(x) : 0;
            this.inverse = pace.isPresent() ? new double[0] : inverse(takes.transform(), x, power);
        }

        private double[] inverse(RealFourier fft, double[] x, Power power) {
            int n = fft.length();
            double[] filter = new double[n];
            for (int i = 1; i < n / 2; i++) {
                filter[2 * i] = Math.sqrt(power.at(i));
            }
            divide(n, x, power, filter);
            fft.inverse(filter);
            double[] sums = new double[n / STEP + 2];
            for (int b = 0; b + 1 < sums.length; b++) {
                sums[b + 1] = sums[b];
                for (int i = b * STEP; i < Math.min(n, (b + 1) * STEP); i++) {
                    sums[b + 1] += filter[i] * filter[i];
                }
            }
            return sums;
        }

        /** Group delay about 1 kHz, seconds: the turn from bin to bin. */
        private double passing(double[] x) {
            double binHz = sampleRate / x.length;
            double re = 0;
            double im = 0;
            for (int i = (int) (FROM_HZ / binHz); i < Math.min(TO_HZ / binHz, x.length / 2.0 - 1); i++) {
                re += x[2 * i + 2] * x[2 * i] + x[2 * i + 3] * x[2 * i + 1];
                im += x[2 * i + 3] * x[2 * i] - x[2 * i + 2] * x[2 * i + 1];
            }
            double turn = -Math.atan2(im, re) / (2 * Math.PI);
            return (turn < 0 ? turn + 1 : turn) / binHz;
        }

        /** Σgate² over what lies within take {@code k}, against frequency in hertz within a range. */
        DoubleUnaryOperator energy(Gate gate, int k, double fromHz, double toHz) {
            if (pace.isPresent() && takes.size() < 3) {
                // What the ends of the takes leave of a room's decay differs, and two takes cannot show it as a
                // residual.
                return hz -> gate.energy;
            }
            if (pace.isPresent()) {
                DoubleUnaryOperator energy = sweepEnergy(gate, k, pace.getAsDouble());
                // The place moves one way along the sweep: what lies within the take at both ends does so between them.
                boolean whole =
                        energy.applyAsDouble(fromHz) == gate.energy && energy.applyAsDouble(toHz) == gate.energy;
                return whole ? hz -> gate.energy : energy;
            }
            double same = steadyEnergy(gate, k);
            return hz -> same;
        }

        private DoubleUnaryOperator sweepEnergy(Gate gate, int k, double secondsPerNeper) {
            return hz -> {
                double here =
                        starts[k] / sampleRate + atOneKilohertz + secondsPerNeper * Math.log(hz / 1000) - PRE_SECONDS;
                double end = (takes.frames(k) / sampleRate - here) * gate.sampleRate;
                return Math.max(LEAST * gate.energy, gate.until(end) - gate.until(-here * gate.sampleRate));
            };
        }

        private double steadyEnergy(Gate gate, int k) {
            int n = takes.transform().length();
            if (takes.frames(k) >= n) {
                return gate.energy;
            }
            int stride = Math.max(1, gate.weight.length / 1024);
            double sum = 0;
            double all = 0;
            for (int i = stride / 2; i < gate.weight.length; i += stride) {
                double square = gate.weight[i] * gate.weight[i];
                double place = starts[k] + (i / gate.sampleRate - PRE_SECONDS) * sampleRate;
                all += square;
                sum += square * (gatheredUntil(place, n) - gatheredUntil(place - takes.frames(k), n));
            }
            return gate.energy * Math.max(LEAST, sum / (all * inverse[inverse.length - 1]));
        }

        /** Running sum of the filter, which repeats itself after {@code n} samples. */
        private double gatheredUntil(double place, int n) {
            double rounds = Math.floor(place / n);
            int step = (int) Math.rint((place - rounds * n) / STEP);
            return rounds * inverse[inverse.length - 1] + inverse[Math.min(step, inverse.length - 1)];
        }
    }

    /** Bins of gated responses, range by range from low to high. */
    private static final class Assembly {
        private final TakeSpectra takes;
        private final Power power;
        private final Overlap overlap;
        private final double binHz;
        private final List<Part> parts = new ArrayList<>();

        Assembly(TakeSpectra takes, Power power, int n, Overlap overlap) {
            this.takes = takes;
            this.overlap = overlap;
            this.power = power;
            this.binHz = takes.sampleRate() / n;
        }

        /** Bins of one gate that lie where the stimulus has power. */
        private record Part(double[][] spectra, Gate gate, int[] bins) {
            double hz(int b) {
                return bins[b] * gate.sampleRate / gate.weight.length;
            }
        }

        /** Adds the bins of a gate from a frequency to one below another; the ends of the whole range are included. */
        void add(double[][] spectra, Gate gate, double fromHz, double toHz) {
            double own = gate.sampleRate / gate.weight.length;
            int before = parts.isEmpty() ? (int) Math.floor(fromHz / own) : (int) Math.ceil(fromHz / own);
            int last = Math.min(gate.weight.length / 2 - 1, (int) Math.ceil(toHz / own));
            double floor = parts.isEmpty() || parts.get(0).bins.length == 0
                    ? 0
                    : parts.get(0).hz(parts.get(0).bins.length - 1);
            parts.add(new Part(
                    spectra,
                    gate,
                    IntStream.rangeClosed(Math.max(1, before), last)
                            .filter(i -> i * own > floor && power.at((int) (i * own / binHz)) > 0)
                            .toArray()));
        }

        BinObservations observations(double averages) {
            double[] hz = parts.stream()
                    .flatMapToDouble(p -> IntStream.range(0, p.bins.length).mapToDouble(p::hz))
                    .toArray();
            BinObservations obs = new BinObservations(takes.size(), hz, averages);
            double[] re = new double[takes.size()];
            double[] im = new double[takes.size()];
            double rate = takes.sampleRate();
            int at = 0;
            for (Part part : parts) {
                DoubleUnaryOperator[] energy = new DoubleUnaryOperator[takes.size()];
                if (part.bins.length > 0) {
                    double toHz = part.hz(part.bins.length - 1);
                    Arrays.setAll(energy, k -> overlap.energy(part.gate, k, part.hz(0), toHz));
                }
                for (int b = 0; b < part.bins.length; b++, at++) {
                    int there = (int) (hz[at] / binHz);
                    double noise = 0.5 * rate * rate / part.gate.sampleRate;
                    noise *= power.noiseFactor(there) / power.at(there);
                    for (int k = 0; k < re.length; k++) {
                        re[k] = part.spectra[k][2 * part.bins[b]];
                        im[k] = part.spectra[k][2 * part.bins[b] + 1];
                        obs.setNoise(
                                at,
                                k,
                                energy[k].applyAsDouble(hz[at])
                                        * noise
                                        * takes.take(k).noise().applyAsDouble(hz[at]));
                    }
                    obs.setSnapshot(at, re, im);
                }
            }
            return obs;
        }
    }

    /**
     * Where a stimulus has power to divide by.
     *
     * <p>|X|² is averaged over {@value #SMOOTHING} of the frequency to either side. A bin is used when that mean is above
     * {@value #NEIGHBOUR_FLOOR} of the largest mean within {@value #REACH_OCTAVES} octave, and above {@value #MEDIAN_FLOOR}
     * of the median over the range of interest: dividing by the flanks of a sweep's band would raise the noise there beyond
     * all measure, and the gate would then spread it into the band.
     */
    private static final class Power {
        private static final double SMOOTHING = 0.03;
        private static final double NEIGHBOUR_FLOOR = 0.03;
        private static final double MEDIAN_FLOOR = 1e-3;
        private static final double REACH_OCTAVES = 0.6;
        private static final int CELLS_PER_OCTAVE = 20;

        private final double[] local;
        /** Running sums of {@code |X|²·m∕(|X|² + εm)²}. */
        private final double[] amplified;

        /**
         * Averages a packed spectrum of length {@code n}.
         *
         * @param x spectrum of the stimulus
         * @param n length of the transform
         * @param firstBin lowest bin of interest
         * @param lastBin highest bin of interest
         * @param regularisation ε that the division by the stimulus adds, as a share of the local mean m
         */
        Power(double[] x, int n, int firstBin, int lastBin, double regularisation) {
            local = smoothed(x, n);
            amplified = amplified(x, n, local, regularisation);
            int cells = cell(n / 2 - 1) + 1;
            double[] centre = new double[cells];
            for (int c = 0; c < cells; c++) {
                centre[c] = local[Math.min(n / 2 - 1, (int) Math.round(Math.pow(2, (c + 0.5) / CELLS_PER_OCTAVE)))];
            }
            double[] part = Arrays.copyOfRange(centre, cell(Math.max(1, firstBin)), cell(lastBin) + 1);
            Arrays.sort(part);
            double floor = MEDIAN_FLOOR * part[part.length / 2];
            int reach = (int) Math.round(REACH_OCTAVES * CELLS_PER_OCTAVE);
            int i = 1;
            for (int c = 0; c < cells; c++) {
                double largest = 0;
                for (int o = Math.max(0, c - reach); o <= Math.min(cells - 1, c + reach); o++) {
                    largest = Math.max(largest, centre[o]);
                }
                double least = Math.max(floor, NEIGHBOUR_FLOOR * largest);
                double end = Math.min(n / 2.0, Math.pow(2, (c + 1.0) / CELLS_PER_OCTAVE));
                for (; i < end; i++) {
                    if (local[i] < least) {
                        local[i] = 0;
                    }
                }
            }
        }

        /** Mean of |X|² around bin {@code i}; 0 where the stimulus has too little. */
        double at(int i) {
            return local[i];
        }

        /**
         * Noise that the division by X leaves at bin {@code i}, relative to a plain division by the local mean m:
         * {@code ⟨|X|²·m∕(|X|² + εm)²⟩} over the same bins. A sweep's is (1 + ε)⁻²; notches of noise make it larger than 1.
         */
        double noiseFactor(int i) {
            int reach = reach(i);
            int a = Math.max(1, i - reach);
            int b = Math.min(amplified.length - 1, i + reach + 1);
            return (amplified[b] - amplified[a]) / (b - a);
        }

        private static double[] amplified(double[] x, int n, double[] mean, double regularisation) {
            double[] sum = new double[n / 2 + 1];
            for (int i = 1; i < n / 2; i++) {
                double power = x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
                double below = power + regularisation * mean[i];
                sum[i + 1] = sum[i] + (below > 0 ? power * mean[i] / (below * below) : 0);
            }
            return sum;
        }

        private static int reach(int bin) {
            return 2 + (int) (SMOOTHING * bin);
        }

        private static int cell(int bin) {
            return (int) Math.floor(CELLS_PER_OCTAVE * Math.log(bin) / Math.log(2));
        }

        /** Running mean of |X|². */
        private static double[] smoothed(double[] x, int n) {
            double[] sum = new double[n / 2 + 1];
            for (int i = 1; i < n / 2; i++) {
                sum[i + 1] = sum[i] + x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
            }
            double[] mean = new double[n / 2 + 1];
            for (int i = 1; i < n / 2; i++) {
                int reach = reach(i);
                int a = Math.max(1, i - reach);
                int b = Math.min(n / 2, i + reach + 1);
                mean[i] = (sum[b] - sum[a]) / (b - a);
            }
            return mean;
        }
    }
}
