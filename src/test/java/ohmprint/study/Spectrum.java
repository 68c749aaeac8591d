package ohmprint.study;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import ohmprint.estimation.LoadedTakes;
import ohmprint.impedance.FrequencyBands;
import ohmprint.study.Cell.Layout;
import org.apache.commons.math3.complex.Complex;

/**
 * What the sessions of a cell have in common, bin by bin: the source's impedance, the room's notches and the noise.
 *
 * <p>The sound's power per bin is that of a complex Gaussian, as behind a room with many reflections, scaled to a mean of
 * 1 per band; the noise variance is {@code |h_open|²/SNR}, as {@link ohmprint.estimation.UncertaintyPredictor.ExpectedSession} has it.
 */
final class Spectrum {
    /** Length of the sound that gives the distance of even bins, seconds. */
    static final double EVEN_SECONDS = 0.5;

    private static final int SPREAD_BINS = 12;
    private static final int EVERY = 12;
    private static final double LOWEST_HZ = 30;
    private static final double HIGHEST_HZ = 17_000;
    private static final double LOWEST_EVEN_HZ = 250;
    private static final double HIGHEST_EVEN_HZ = 2500;
    private static final double WEAKEST = 0.02;

    final FrequencyBands bands;
    /** Indices of the bands that hold bins. */
    final int[] chosen;
    /** First bin of each of them, and the number of bins at the end. */
    final int[] first;

    final double[] hz;
    final Complex[] impedance;
    final double[] power;
    final double[] noise;

    Spectrum(Cell cell) {
        boolean spread = cell.layout() == Layout.SPREAD;
        bands = spread
                ? FrequencyBands.within(12, LOWEST_HZ, HIGHEST_HZ)
                : FrequencyBands.within(12, LOWEST_EVEN_HZ, HIGHEST_EVEN_HZ);
        chosen = IntStream.range(0, bands.size())
                .filter(b -> !spread || b % EVERY == EVERY / 3)
                .toArray();
        List<double[]> parts = Arrays.stream(chosen)
                .mapToObj(b -> spread ? spreadBins(b) : evenBins(b))
                .toList();
        hz = parts.stream().flatMapToDouble(DoubleStream::of).toArray();
        first = new int[chosen.length + 1];
        for (int c = 0; c < chosen.length; c++) {
            first[c + 1] = first[c] + parts.get(c).length;
        }
        impedance = Arrays.stream(hz).mapToObj(cell.circuit()::impedance).toArray(Complex[]::new);
        LoadedTakes stated = cell.stated();
        double ratio = Math.pow(10, cell.snrDb() / 10);
        noise = IntStream.range(0, hz.length)
                .mapToDouble(i -> Math.pow(
                                stated.input()
                                        .admittance(hz[i])
                                        .multiply(impedance[i])
                                        .add(1)
                                        .abs(),
                                -2)
                        / ratio)
                .toArray();
        power = room(cell.circuit().ordinal());
    }

    private double[] spreadBins(int band) {
        double low = bands.lowerEdge(band);
        double width = Math.log(bands.upperEdge(band) / low);
        return IntStream.range(0, SPREAD_BINS)
                .mapToDouble(j -> low * Math.exp(width * (j + 0.5) / SPREAD_BINS))
                .toArray();
    }

    private double[] evenBins(int band) {
        return IntStream.rangeClosed((int) Math.ceil(bands.lowerEdge(band) * EVEN_SECONDS), (int)
                        Math.floor(bands.upperEdge(band) * EVEN_SECONDS))
                .mapToDouble(i -> i / EVEN_SECONDS)
                .toArray();
    }

    private double[] room(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] out = new double[hz.length];
        Arrays.setAll(out, i -> WEAKEST - Math.log(1 - random.nextDouble()));
        for (int c = 0; c < chosen.length; c++) {
            double sum = Arrays.stream(out, first[c], first[c + 1]).sum();
            for (int i = first[c]; i < first[c + 1]; i++) {
                out[i] *= (first[c + 1] - first[c]) / sum;
            }
        }
        return out;
    }

    /** Number of bins. */
    int size() {
        return hz.length;
    }

    /** The true impedance at the midbands of the chosen bands. */
    List<Complex> truths(Cell cell) {
        return Arrays.stream(chosen)
                .mapToObj(b -> cell.circuit().impedance(bands.midband(b)))
                .toList();
    }
}
