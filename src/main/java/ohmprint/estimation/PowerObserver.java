package ohmprint.estimation;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;
import ohmprint.estimation.TakeRecording.AlignedReader;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;

/**
 * Power route: periodograms of takes that do not hold the same sound, each over its whole sounding part in one piece, or
 * in pieces of {@value #LONGEST_BLOCK} samples. Only the diagonal of the observations is filled.
 *
 * <p>No window is applied: the sound begins and ends in silence, and a window would mix neighbouring bins and so hide
 * whether the noise is a generator's even spectrum or truly random, which the scatter between takes must show.
 *
 * <p>The power of a take is {@code (energy − N·length)/duration} with N the noise density: the energy is that of the whole piece,
 * silence before and decay after it included, the duration that of the sound, between the two places where its level passes
 * half of what it has in between. A room that rings delays both by the same time.
 */
public final class PowerObserver {
    private static final int LONGEST_BLOCK = 1 << 19;
    private static final double LEAST_SECONDS = 1.0;
    /** Stretch over which a level is taken, seconds. */
    private static final double LEVEL_SECONDS = 0.005;
    /** Levels to either side of one whose median stands for it: a click of 20 ms is no sound. */
    private static final int EITHER_SIDE = 4;

    private final double fromHz;
    private final double toHz;

    /**
     * An observer for a frequency range in hertz.
     *
     * @param fromHz lowest frequency of interest
     * @param toHz highest frequency of interest
     */
    public PowerObserver(double fromHz, double toHz) {
        this.fromHz = fromHz;
        this.toHz = toHz;
    }

    /**
     * Power spectra of all takes.
     *
     * @param takes takes of one sample rate, each with a sounding part of one block or more
     * @throws IOException if a take cannot be read
     * @throws IllegalArgumentException if a sounding part is shorter than one block
     */
    public BinObservations observe(List<TakeRecording> takes) throws IOException {
        int block = 4;
        double shortest = Double.POSITIVE_INFINITY;
        double[] duration = new double[takes.size()];
        double rate = 0;
        for (int k = 0; k < takes.size(); k++) {
            TakeRecording take = takes.get(k);
            long length = take.soundEnd() - take.soundStart();
            try (SampleSource source = take.opener().open()) {
                rate = source.sampleRate();
            }
            if (length < LEAST_SECONDS * rate) {
                throw new IllegalArgumentException(
                        "take " + (k + 1) + " sounds for " + length / rate + " s only; record at least 5 s of noise");
            }
            duration[k] = duration(take, rate);
            shortest = Math.min(shortest, duration[k]);
            block = Math.max(block, RealFourier.lengthFor(Math.min(length, LONGEST_BLOCK)));
        }
        int length = block;
        int first = Math.max(1, (int) Math.ceil(fromHz * block / rate));
        int end = Math.min(block / 2, (int) Math.floor(toHz * block / rate));
        double[][] power = Parallel.map(takes, t -> power(t, length, first, end), double[][]::new);
        double[] hz = new double[end - first];
        for (int i = first; i < end; i++) {
            hz[i - first] = i * rate / block;
        }
        BinObservations obs = new BinObservations(takes.size(), hz, shortest / block);
        for (int k = 0; k < power.length; k++) {
            TakeRecording take = takes.get(k);
            double longer = (take.soundEnd() - take.soundStart()) / duration[k];
            for (int i = 0; i < hz.length; i++) {
                obs.set(i, k, k, longer * power[k][i], 0);
                obs.setNoise(i, k, longer * take.noise().applyAsDouble(hz[i]));
            }
        }
        return obs;
    }

    /** Frames between the places where the level passes half of its median, the first and the last. */
    private static double duration(TakeRecording take, double rate) throws IOException {
        long length = take.soundEnd() - take.soundStart();
        int step = Math.max(1, (int) Math.round(LEVEL_SECONDS * rate));
        double[] level = new double[(int) Math.min(Integer.MAX_VALUE - 8, length / step)];
        try (AlignedReader reader = new AlignedReader(take.opener().open(), take.channel())) {
            reader.limitTo(take.soundStart(), length);
            double[] data = new double[step];
            double[] offset = new double[level.length];
            for (int i = 0; i < level.length; i++) {
                reader.read(data, 0, step);
                double sum = 0;
                double squares = 0;
                for (double x : data) {
                    sum += x;
                    squares += x * x;
                }
                offset[i] = sum / step;
                level[i] = squares / step;
            }
            double mean = Arrays.stream(offset).average().orElse(0);
            for (int i = 0; i < level.length; i++) {
                level[i] += mean * (mean - 2 * offset[i]);
            }
        }
        double half = new Percentile(50).evaluate(level) / 2;
        int first = 0;
        while (first < level.length - 1 && around(level, first) < half) {
            first++;
        }
        int last = level.length - 1;
        while (last > first && around(level, last) < half) {
            last--;
        }
        // What lies beyond the last whole step belongs to a sound that lasts until there.
        return last == level.length - 1 ? length - (double) first * step : (last + 1.0 - first) * step;
    }

    /** Median of the levels around one; beyond the ends the outermost goes on. */
    private static double around(double[] level, int at) {
        double[] near = new double[2 * EITHER_SIDE + 1];
        for (int i = 0; i < near.length; i++) {
            near[i] = level[Math.max(0, Math.min(level.length - 1, at + i - EITHER_SIDE))];
        }
        Arrays.sort(near);
        return near[EITHER_SIDE];
    }

    /** One-sided power density of the bins {@code [first, end)}, full scale²/Hz, over the whole piece. */
    private static double[] power(TakeRecording take, int block, int first, int end) throws IOException {
        try (AlignedReader reader = new AlignedReader(take.opener().open(), take.channel())) {
            RealFourier fft = RealFourier.ofLength(block);
            long length = take.soundEnd() - take.soundStart();
            reader.limitTo(take.soundStart(), length);
            double[] sum = new double[end - first];
            double[] data = new double[block];
            for (long done = 0; done < length; done += block) {
                reader.read(data, 0, block);
                fft.forward(data);
                for (int i = first; i < end; i++) {
                    sum[i - first] += data[2 * i] * data[2 * i] + data[2 * i + 1] * data[2 * i + 1];
                }
            }
            for (int i = 0; i < sum.length; i++) {
                sum[i] *= 2 / (reader.sampleRate() * length);
            }
            return sum;
        }
    }
}
