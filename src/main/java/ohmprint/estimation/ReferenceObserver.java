package ohmprint.estimation;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.dsp.NoiseFloor;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.SpectralMatrix;

/**
 * Reference-channel route: within each take, the response of the microphone's channel to a channel that hears the source
 * but not the load, {@code D_k = S_yr/(S_rr − N_rr)}. Level and timing of the source cancel.
 *
 * <p>N_rr is the noise of the reference channel by its own lead-in. Left in the denominator, as plain H1 leaves it, noise makes
 * each take too weak by {@code q = N_rr/S_rr}, and a quiet take more so than a loud one, for which a load would be blamed; a bin
 * where the room lets the reference hear little suffers most. The solver weighs a bin as S_rr − N_rr, so that over a band it sees
 * {@code Σ S_yr ∕ Σ (S_rr − N_rr)}, which noise does not bias. What is left is uncertain by {@code ρ·q/(1 − q)}, ρ the relative
 * uncertainty of N_rr by the length of the lead-in and by how far backgrounds change, and stated for each take as a level that
 * its bins share ({@link BinObservations#setLevelUncertainty}).
 *
 * <p>Hann-windowed blocks of at least {@value #BLOCK_SECONDS} s, long against the decay of a room; at most half of the
 * shortest take. The variance per bin
 * is {@code σ_k² = P·S_rr∕(n·(S_rr − N_rr)²)}. The incoherent power P is {@code q·S_yy}, what the reference's noise leaves
 * unexplained in just this bin, and the mean over neighbouring bins of what {@code (1−γ²)·S_yy} holds beyond that, since a single
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

    /** Largest share of noise in the reference's power that is taken out: beyond it chance decides what would be left. */
    private static final double MOST_NOISE = 0.5;
    /** Share of the incoherent power that is taken for the microphone's even if the reference's noise seems to explain all of it. */
    private static final double LEAST_REST = 0.05;
    /** By how much backgrounds change from the lead-in to the sound, relative: 0.2 dB (common practice, no source). */
    private static final double BACKGROUND_CHANGES = 0.05;

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
     * @param referenceLevel mean power of each take's reference channel over the range less its noise, full scale²
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
        double[][] noiseShare = new double[takeCount][];
        double[] level = new double[takeCount];
        double[] coherence = new double[takeCount];
        for (int k = 0; k < takeCount; k++) {
            noiseShare[k] = noiseShare(spectra[k], takes.get(k), first, end);
            incoherent[k] = incoherent(spectra[k], noiseShare[k], first, end);
            level[k] = level(spectra[k], noiseShare[k], first, end);
            coherence[k] = medianCoherence(spectra[k], first, end);
        }
        double[] re = new double[takeCount];
        double[] im = new double[takeCount];
        for (int i = first; i < end; i++) {
            for (int k = 0; k < takeCount; k++) {
                SpectralMatrix s = spectra[k];
                double q = noiseShare[k][i - first];
                double signal = s.auto(1, i) * (1 - q);
                re[k] = s.crossRe(0, 1, i) / signal;
                im[k] = s.crossIm(0, 1, i) / signal;
                obs.setNoise(
                        i - first, k, incoherent[k][i - first] / (effectiveBlocks(takes.get(k), s) * signal * (1 - q)));
                obs.setLevelUncertainty(i - first, k, noiseUncertainty(takes.get(k), s, i) * q / (1 - q));
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

    /** Power P of the microphone's channel that its reference does not explain. */
    private static double[] incoherent(SpectralMatrix s, double[] noiseShare, int first, int end) {
        double[] all = new double[end - first + 1];
        double[] known = new double[end - first + 1];
        double bias = s.blocks() > 1 ? s.blocks() / (s.blocks() - 1.0) : 1;
        for (int i = first; i < end; i++) {
            int at = i - first;
            all[at + 1] = all[at] + bias * Math.max(0, s.auto(0, i) * (1 - s.coherence(0, 1, i)));
            known[at + 1] = known[at] + noiseShare[at] * s.auto(0, i);
        }
        double[] out = new double[end - first];
        for (int i = 0; i < out.length; i++) {
            int reach = 3 + (int) (SMOOTHING * (i + first));
            int a = Math.max(0, i - reach);
            int b = Math.min(out.length, i + reach + 1);
            double mean = (all[b] - all[a]) / (b - a);
            double rest = Math.max(LEAST_REST * mean, mean - (known[b] - known[a]) / (b - a));
            out[i] = rest + (known[i + 1] - known[i]) + Double.MIN_NORMAL;
        }
        return out;
    }

    /** Share q of noise in the reference's power, bin by bin. */
    private static double[] noiseShare(SpectralMatrix s, TakeRecording take, int first, int end) {
        double[] share = new double[end - first];
        Arrays.setAll(share, i -> {
            double noise = take.referenceNoise().applyAsDouble(s.frequency(i + first));
            return noise > 0 ? Math.min(MOST_NOISE, noise / s.auto(1, i + first)) : 0;
        });
        return share;
    }

    /** Relative uncertainty ρ of the density of the reference's noise; the margin of the sound is all that its lead-in lacks. */
    private static double noiseUncertainty(TakeRecording take, SpectralMatrix s, int i) {
        double seconds = take.soundStart() / s.sampleRate();
        return Math.hypot(BACKGROUND_CHANGES, NoiseFloor.relativeUncertainty(s.frequency(i), seconds));
    }

    private static double level(SpectralMatrix s, double[] noiseShare, int first, int end) {
        double sum = 0;
        for (int i = first; i < end; i++) {
            sum += s.auto(1, i) * (1 - noiseShare[i - first]) * s.binSpacing();
        }
        return sum;
    }

    private static double medianCoherence(SpectralMatrix s, int first, int end) {
        double[] all = new double[end - first];
        for (int i = first; i < end; i++) {
            all[i - first] = s.coherence(0, 1, i);
        }
        Arrays.sort(all);
        return all[all.length / 2];
    }
}
