package ohmprint.estimate;

import java.io.IOException;
import java.util.List;
import ohmprint.signal.RealFourier;
import ohmprint.signal.SampleSource;
import ohmprint.signal.SpectralMatrix;

/**
 * Reference-channel route: within each take, the response of the microphone's channel to a channel that hears the source
 * but not the load, {@code D_k = H1 = S_yr/S_rr}. Level and timing of the source cancel.
 *
 * <p>Hann-windowed blocks of at least {@value #BLOCK_SECONDS} s, long against the decay of a room; at most half of the
 * shortest take. The variance per bin
 * is {@code σ_k² = ⟨(1−γ²)·S_yy⟩∕(n·S_rr)}, with the incoherent power averaged over neighbouring bins, since a single
 * bin's coherence is far too uncertain. Source: Bendat and Piersol, Random Data, 4th ed., 9.2 (recalled from memory).
 */
public final class ReferenceObserver {
    private static final double BLOCK_SECONDS = 2.0;
    /** Shortest block that takes of little length are cut into, samples. */
    private static final int LEAST_BLOCK = 1 << 12;
    /** Blocks from which half an overlap is enough: the ends of a take then matter little. */
    private static final int MANY_BLOCKS = 12;
    /** Effective averages per bin and block length of time, Hann blocks with three quarters of overlap. */
    private static final double AVERAGES_DENSE = 2.08;
    /** The same with half an overlap. */
    private static final double AVERAGES_HALF = 1.89;

    /** Variance of a sum over neighbouring Hann bins relative to independent ones: N·Σw⁴/(Σw²)². */
    private static final double BIN_CORRELATION = 35.0 / 18.0;

    /** The same for every second bin, ρ² = 1/36 between neighbours: 1 + 2/36. */
    private static final double SPARSE_BIN_CORRELATION = 19.0 / 18.0;

    private static final double SMOOTHING = 0.04;

    private final double fromHz;
    private final double toHz;

    /**
     * An observer for a frequency range in hertz.
     *
     * @param fromHz lowest frequency of interest
     * @param toHz highest frequency of interest
     */
    public ReferenceObserver(double fromHz, double toHz) {
        this.fromHz = fromHz;
        this.toHz = toHz;
    }

    /**
     * What the takes hold.
     *
     * @param bins responses to the reference
     * @param referenceLevel mean power of each take's reference channel over the range, full scale²
     * @param coherence median coherence of the two channels of each take
     */
    public record Observed(BinObservations bins, double[] referenceLevel, double[] coherence) {}

    /**
     * Responses of all takes to their reference channels.
     *
     * @throws IOException if a take cannot be read
     */
    public Observed observe(List<TakeRecording> takes) throws IOException {
        long shortest = takes.stream()
                .mapToLong(t -> t.soundEnd() - t.soundStart())
                .min()
                .orElse(0);
        SpectralMatrix[] spectra = Parallel.map(takes, t -> spectra(t, shortest), SpectralMatrix[]::new);
        SpectralMatrix any = spectra[0];
        int first = Math.max(1, any.firstBin());
        int end = any.endBin() - 1;
        double[] hz = new double[end - first];
        for (int i = first; i < end; i++) {
            hz[i - first] = any.frequency(i);
        }
        int takeCount = takes.size();
        BinObservations obs = new BinObservations(
                takeCount, hz, 1 / (fold(shortest, any.blockLength()) == 1 ? BIN_CORRELATION : SPARSE_BIN_CORRELATION));
        obs.noiseHoldsOnAverage();
        double[][] incoherent = new double[takeCount][];
        double[] level = new double[takeCount];
        double[] coherence = new double[takeCount];
        for (int k = 0; k < takeCount; k++) {
            incoherent[k] = smoothedIncoherent(spectra[k], first, end);
            level[k] = level(spectra[k], first, end);
            coherence[k] = medianCoherence(spectra[k], first, end);
        }
        double[] re = new double[takeCount];
        double[] im = new double[takeCount];
        for (int i = first; i < end; i++) {
            for (int k = 0; k < takeCount; k++) {
                SpectralMatrix s = spectra[k];
                double rr = s.auto(1, i);
                re[k] = s.crossRe(0, 1, i) / rr;
                im[k] = s.crossIm(0, 1, i) / rr;
                obs.setNoise(i - first, k, incoherent[k][i - first] / (effectiveBlocks(takes.get(k), s) * rr));
            }
            obs.setSnapshot(i - first, re, im);
        }
        return new Observed(obs, level, coherence);
    }

    /** Of long takes every second bin is enough; short ones hold few, so all count. */
    private static int fold(long shortest, int block) {
        return shortest / block >= MANY_BLOCKS ? 2 : 1;
    }

    private static int overlap(TakeRecording take, int block) {
        return (take.soundEnd() - take.soundStart()) / block >= MANY_BLOCKS ? 2 : 4;
    }

    private static double effectiveBlocks(TakeRecording take, SpectralMatrix s) {
        int overlap = overlap(take, s.blockLength());
        return Math.max(1, (overlap == 2 ? AVERAGES_HALF : AVERAGES_DENSE) * s.blocks() / overlap);
    }

    private SpectralMatrix spectra(TakeRecording take, long shortest) throws IOException {
        try (SampleSource source = take.opener().open()) {
            double rate = source.sampleRate();
            int block = RealFourier.lengthFor((long) (BLOCK_SECONDS * rate));
            while (block > shortest / 2 && block > LEAST_BLOCK) {
                block /= 2;
            }
            SpectralMatrix matrix = new SpectralMatrix(2, block, fold(shortest, block), rate, fromHz, toHz, false);
            source.skip(take.soundStart());
            long left = take.soundEnd() - take.soundStart();
            int hop = block / overlap(take, block);
            double[][] frames = new double[source.channels()][block];
            double[][] pair = {frames[take.channel()], frames[take.referenceChannel()]};
            int filled = 0;
            while (left > 0) {
                int got = source.read(frames, filled, (int) Math.min(block - filled, left));
                if (got == 0) {
                    break;
                }
                filled += got;
                left -= got;
                if (filled == block) {
                    matrix.add(pair, 0);
                    for (double[] channel : frames) {
                        System.arraycopy(channel, hop, channel, 0, block - hop);
                    }
                    filled = block - hop;
                }
            }
            return matrix;
        }
    }

    private static double[] smoothedIncoherent(SpectralMatrix s, int first, int end) {
        double[] sum = new double[end - first + 1];
        for (int i = first; i < end; i++) {
            double power = s.auto(0, i) * (1 - s.coherence(0, 1, i));
            sum[i - first + 1] = sum[i - first] + Math.max(0, power);
        }
        double bias = s.blocks() > 1 ? s.blocks() / (s.blocks() - 1.0) : 1;
        double[] out = new double[end - first];
        for (int i = 0; i < out.length; i++) {
            int reach = 3 + (int) (SMOOTHING * (i + first));
            int a = Math.max(0, i - reach);
            int b = Math.min(out.length, i + reach + 1);
            out[i] = bias * (sum[b] - sum[a]) / (b - a) + Double.MIN_NORMAL;
        }
        return out;
    }

    private static double level(SpectralMatrix s, int first, int end) {
        double sum = 0;
        for (int i = first; i < end; i++) {
            sum += s.auto(1, i) * s.binSpacing();
        }
        return sum;
    }

    private static double medianCoherence(SpectralMatrix s, int first, int end) {
        double[] all = new double[end - first];
        for (int i = first; i < end; i++) {
            all[i - first] = s.coherence(0, 1, i);
        }
        java.util.Arrays.sort(all);
        return all[all.length / 2];
    }
}
