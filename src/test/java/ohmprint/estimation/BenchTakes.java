package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleFunction;
import ohmprint.circuit.Divider;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.dsp.ArraySource;
import ohmprint.dsp.Noise;
import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * Recordings of an invented bench, in memory: a sound, a room with reflections, the microphone's divider by its exact
 * frequency response on a zero-padded record, white noise of known density, a start at a random whole sample.
 */
final class BenchTakes {
    static final double RATE = 44_100;
    /** Frames from the loudspeaker to the microphone. */
    static final int PATH_FRAMES = 20;

    private static final double NOISE_RMS = 2e-4;
    private static final double LEAST_LEAD_SECONDS = 0.4;
    private static final double DECAY_SECONDS = 0.5;
    private static final double ROOM_SECONDS = 0.06;

    private final SourceModel source;
    private final LoadedTakes loaded;
    private final Random random;
    private final double[] room;
    private final double[] monitorRoom;
    private double monitorRms = NOISE_RMS;
    private final List<TakeRecording> takes = new ArrayList<>();
    private final List<Long> starts = new ArrayList<>();

    /** An empty bench whose rooms, noise and starts a seed determines. */
    BenchTakes(SourceModel source, LoadedTakes loaded, long seed) {
        this.source = source;
        this.loaded = loaded;
        this.random = CircuitBins.seeded(seed);
        this.room = reflections();
        this.monitorRoom = reflections();
    }

    /** Noise of the reference channel in the takes to come. */
    BenchTakes monitorNoise(double rms) {
        monitorRms = rms;
        return this;
    }

    /** Records the next take: the sound at a level relative to 1, with the reference microphone on channel 1. */
    void record(double[] sound, double level) {
        Load load = loaded.loads().get(takes.size());
        int lead = (int) ((LEAST_LEAD_SECONDS + 0.3 * random.nextDouble()) * RATE);
        int frames = lead + sound.length + (int) (DECAY_SECONDS * RATE);
        double[] played = new double[frames];
        for (int i = 0; i < sound.length; i++) {
            played[lead + i] = level * sound[i];
        }
        double[] microphone = filtered(
                convolved(played, room),
                hz -> Divider.response(source.impedance(hz), Divider.admittance(load, loaded.input(), hz)));
        double[] monitor = convolved(played, monitorRoom);
        double monitorSd = monitorRms;
        addNoise(microphone, NOISE_RMS);
        addNoise(monitor, monitorSd);
        starts.add((long) lead);
        takes.add(new TakeRecording(
                () -> new ArraySource(RATE, microphone, monitor),
                0,
                1,
                lead - 100,
                frames,
                hz -> 2 * NOISE_RMS * NOISE_RMS / RATE,
                hz -> 2 * monitorSd * monitorSd / RATE));
    }

    /** The takes recorded so far. */
    List<TakeRecording> takes() {
        return takes;
    }

    /** Frame at which the sound begins in take {@code k}. */
    long start(int k) {
        return starts.get(k);
    }

    private void addNoise(double[] x, double rms) {
        double[] noise = Noise.whiteGaussian(x.length, rms, random.nextLong());
        for (int i = 0; i < x.length; i++) {
            x[i] += noise[i];
        }
    }

    /** Direct sound and twenty decaying reflections. */
    private double[] reflections() {
        double[] response = new double[(int) (ROOM_SECONDS * RATE)];
        response[PATH_FRAMES] = 1;
        for (int r = 0; r < 20; r++) {
            int at = 60 + random.nextInt(response.length - 60);
            response[at] += 0.6 * random.nextGaussian() * Math.exp(-4.0 * at / response.length);
        }
        return response;
    }

    private static double[] convolved(double[] x, double[] response) {
        double[] y = new double[x.length];
        for (int d = 0; d < response.length; d++) {
            for (int i = d; response[d] != 0 && i < y.length; i++) {
                y[i] += response[d] * x[i - d];
            }
        }
        return y;
    }

    private static double[] filtered(double[] x, DoubleFunction<Complex> response) {
        int n = Integer.highestOneBit(x.length) << 1;
        double[] packed = Arrays.copyOf(x, n);
        DoubleFFT_1D fft = new DoubleFFT_1D(n);
        fft.realForward(packed);
        packed[0] = 0;
        packed[1] = 0;
        for (int i = 1; i < n / 2; i++) {
            Complex v = response.apply(i * RATE / n).multiply(new Complex(packed[2 * i], packed[2 * i + 1]));
            packed[2 * i] = v.getReal();
            packed[2 * i + 1] = v.getImaginary();
        }
        fft.realInverse(packed, true);
        return Arrays.copyOf(packed, x.length);
    }
}
