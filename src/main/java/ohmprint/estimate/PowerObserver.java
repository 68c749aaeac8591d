package ohmprint.estimate;

import java.io.IOException;
import java.util.List;
import ohmprint.signal.RealFourier;
import ohmprint.signal.SampleSource;

/**
 * Power route: periodograms of takes that do not hold the same sound, each over its whole sounding part in one piece, or
 * in pieces of {@value #LONGEST_BLOCK} samples. Only the diagonal of the observations is filled.
 *
 * <p>No window is applied: the sound begins and ends in silence, and a window would mix neighbouring bins and so hide
 * whether the noise is a generator's even spectrum or truly random, which the scatter between takes must show.
 */
public final class PowerObserver {
    private static final int LONGEST_BLOCK = 1 << 19;
    private static final double LEAST_SECONDS = 1.0;

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
        long shortest = Long.MAX_VALUE;
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
            shortest = Math.min(shortest, length);
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
        BinObservations obs = new BinObservations(takes.size(), hz, (double) shortest / block);
        for (int k = 0; k < power.length; k++) {
            for (int i = 0; i < hz.length; i++) {
                obs.set(i, k, k, power[k][i], 0);
                obs.setNoise(i, k, takes.get(k).noise().applyAsDouble(hz[i]));
            }
        }
        return obs;
    }

    /** One-sided power density of the bins {@code [first, end)}, full scale²/Hz. */
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
