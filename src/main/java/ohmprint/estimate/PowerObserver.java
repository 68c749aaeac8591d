package ohmprint.estimate;

import java.io.IOException;
import java.util.List;
import ohmprint.signal.RealFourier;
import ohmprint.signal.SpectralMatrix;

/**
 * Power route: power spectra of takes that do not hold the same sound (Welch, Hann, three quarters overlap), read from
 * the sounding part of each. Only the diagonal of the observations is filled.
 */
public final class PowerObserver {
    private static final double BLOCK_SECONDS = 1.0;
    private static final int OVERLAP = 4;

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
        SpectralMatrix[] spectra = Parallel.map(takes, this::spectrum, SpectralMatrix[]::new);
        SpectralMatrix any = spectra[0];
        int first = Math.max(1, any.firstBin());
        int end = any.endBin() - 1;
        double[] hz = new double[end - first];
        double shortest = Double.POSITIVE_INFINITY;
        for (int k = 0; k < spectra.length; k++) {
            if (spectra[k].blocks() == 0) {
                throw new IllegalArgumentException("take " + (k + 1) + " sounds for less than " + BLOCK_SECONDS
                        + " s; record at least 5 s of noise");
            }
            shortest = Math.min(shortest, (spectra[k].blocks() - 1.0) / OVERLAP + 1);
        }
        for (int i = first; i < end; i++) {
            hz[i - first] = any.frequency(i);
        }
        BinObservations obs = new BinObservations(takes.size(), hz, shortest);
        for (int k = 0; k < spectra.length; k++) {
            for (int i = first; i < end; i++) {
                obs.set(i - first, k, k, spectra[k].auto(0, i), 0);
                obs.setNoise(i - first, k, takes.get(k).noise().applyAsDouble(hz[i - first]));
            }
        }
        return obs;
    }

    private SpectralMatrix spectrum(TakeRecording take) throws IOException {
        try (AlignedReader reader = new AlignedReader(take.opener().open(), take.channel())) {
            int block = RealFourier.lengthFor((long) (BLOCK_SECONDS * reader.sampleRate()));
            SpectralMatrix matrix = new SpectralMatrix(1, block, reader.sampleRate(), fromHz, toHz, false);
            long length = take.soundEnd() - take.soundStart();
            reader.limitTo(take.soundStart(), length);
            int hop = block / OVERLAP;
            double[][] data = new double[1][block];
            reader.read(data[0], 0, block);
            for (long end = block; end <= length; end += hop) {
                matrix.add(data, 0);
                System.arraycopy(data[0], hop, data[0], 0, block - hop);
                reader.read(data[0], block - hop, hop);
            }
            return matrix;
        }
    }
}
