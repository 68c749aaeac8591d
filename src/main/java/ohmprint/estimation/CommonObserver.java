package ohmprint.estimation;

import java.io.IOException;
import java.util.List;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SpectralMatrix;
import ohmprint.estimation.TakeRecording.AlignedReader;

/**
 * Common-source route: all takes hold the same sound and are read side by side, aligned to whole samples.
 *
 * <p>Hann-windowed blocks of at least {@value #BLOCK_SECONDS} s, three quarters overlapping, are averaged into the
 * spectral matrix of the takes. Beyond the stretch that all takes share, zeros are read in each, so that the ends cost
 * nothing. Memory does not grow with the length of the takes.
 */
public final class CommonObserver {
    private static final double BLOCK_SECONDS = 2.0;
    private static final int OVERLAP = 4;

    private final double fromHz;
    private final double toHz;

    /**
     * An observer for a frequency range in hertz.
     *
     * @param fromHz lowest frequency of interest
     * @param toHz highest frequency of interest
     */
    public CommonObserver(double fromHz, double toHz) {
        this.fromHz = fromHz;
        this.toHz = toHz;
    }

    /**
     * Cross products of all takes.
     *
     * @param takes the takes, all of one sample rate
     * @param lags position of each take's sound behind that of the take with lag 0, samples
     * @throws IOException if a take cannot be read
     */
    public BinObservations observe(List<TakeRecording> takes, long[] lags) throws IOException {
        long from = Long.MIN_VALUE;
        long to = Long.MAX_VALUE;
        AlignedReader[] readers = new AlignedReader[takes.size()];
        try {
            for (int k = 0; k < readers.length; k++) {
                readers[k] = new AlignedReader(
                        takes.get(k).opener().open(), takes.get(k).channel());
                from = Math.max(from, -lags[k]);
                to = Math.min(to, readers[k].frames() - lags[k]);
            }
            if (to <= from) {
                throw new IllegalArgumentException("the takes share no stretch of time; record each of them whole");
            }
            double rate = readers[0].sampleRate();
            int block = RealFourier.lengthFor((long) (BLOCK_SECONDS * rate));
            SpectralMatrix matrix = new SpectralMatrix(takes.size(), block, rate, fromHz, toHz, false);
            accumulate(matrix, readers, lags, from, to - from, block);
            return observations(takes, matrix, (double) (to - from) / block, block, rate);
        } finally {
            for (AlignedReader reader : readers) {
                if (reader != null) {
                    reader.close();
                }
            }
        }
    }

    private static void accumulate(
            SpectralMatrix matrix, AlignedReader[] readers, long[] lags, long from, long length, int block)
            throws IOException {
        int hop = block / OVERLAP;
        double[][] data = new double[readers.length][block];
        for (int k = 0; k < readers.length; k++) {
            readers[k].limitTo(from + lags[k], length);
        }
        for (long end = hop; end < length + block; end += hop) {
            for (int k = 0; k < readers.length; k++) {
                System.arraycopy(data[k], hop, data[k], 0, block - hop);
                readers[k].read(data[k], block - hop, hop);
            }
            matrix.add(data, 0);
        }
    }

    private static BinObservations observations(
            List<TakeRecording> takes, SpectralMatrix matrix, double averages, int block, double rate) {
        int first = Math.max(1, matrix.firstBin());
        int end = Math.min(block / 2, matrix.endBin());
        double[] hz = new double[end - first];
        for (int i = first; i < end; i++) {
            hz[i - first] = i * rate / block;
        }
        BinObservations obs = new BinObservations(takes.size(), hz, averages);
        double shared = averages * OVERLAP / matrix.blocks();
        for (int i = first; i < end; i++) {
            for (int k = 0; k < takes.size(); k++) {
                obs.setNoise(i - first, k, shared * takes.get(k).noise().applyAsDouble(hz[i - first]));
                for (int l = 0; l < takes.size(); l++) {
                    obs.set(i - first, k, l, matrix.crossRe(k, l, i), matrix.crossIm(k, l, i));
                }
            }
        }
        return obs;
    }
}
