package ohmprint.estimation;

import java.util.Arrays;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.jspecify.annotations.Nullable;

/**
 * Change of the source from take to take, seen by the reference channels when all takes hold the same sound.
 *
 * <p>Per octave the gain against the pivot take p is {@code g_k = Σ S_kp ∕ Σ (S_pp − σ_p²)} of the reference channels, of
 * variance {@code Σ [S_pp·σ_k² + (S_kk − σ_k²)·σ_p²] ∕ (n·(Σ (S_pp − σ_p²))²)}. What holds more noise than sound tells nothing
 * of it. Where one level and one delay, {@code ln g_k = a_k − jωτ_k} by weighted
 * least squares, explain the octaves of a take (χ²), its gain is that: what noise in the reference channel leaves of it is
 * then next to nothing, and the same in all bands. Otherwise, as after the microphone was moved, it is the ratio over
 * {@value #OCTAVES} octave around each frequency, whose noise neighbouring bands share but distant ones do not. Either way
 * none of the reference's room notches get into the microphone's channels when they are divided by it.
 *
 * @param gainRe real part of g_k, indexed [take][bin]
 * @param gainIm imaginary part
 * @param driftDb level of each take relative to the first, dB, over the whole range
 */
public record SourceDrift(double[][] gainRe, double[][] gainIm, double[] driftDb) {
    private static final double OCTAVES = 1.0;
    private static final double DECIBELS = 20 * Math.log10(Math.E);
    /** Chance that a take with one level and one delay is not seen to have them. */
    private static final double MISTAKEN = 1e-3;
    /** Looks at the octaves, each with the delay of the one before taken out: across an octave it would turn the gain. */
    private static final int ROUNDS = 3;
    /** Relative variance below which rounding, not noise, decides. */
    private static final double LEAST_VARIANCE = 1e-12;

    /**
     * Gains from observations of the reference channels.
     *
     * @param reference aligned observations of the reference channels, in the bins of the microphone's observations
     * @param pivot index of the pivot take
     */
    public static SourceDrift of(BinObservations reference, int pivot) {
        int takes = reference.takes();
        double[][] re = new double[takes][reference.size()];
        double[][] im = new double[takes][reference.size()];
        double[] level = new double[takes];
        for (int k = 0; k < takes; k++) {
            OneGain one = k == pivot ? new OneGain(0, 0) : OneGain.of(reference, k, pivot);
            level[k] = one != null
                    ? one.into(reference, re[k], im[k])
                    : Sums.of(reference, k, pivot, 0).into(reference, re[k], im[k]);
        }
        double first = level[0];
        return new SourceDrift(
                re, im, Arrays.stream(level).map(l -> DECIBELS * (l - first)).toArray());
    }

    /**
     * Running sums over the bins: cross spectrum with the pivot, a delay taken out; the pivot's power less its noise; variance of
     * the former.
     */
    private record Sums(double[] crossRe, double[] crossIm, double[] power, double[] noise, double[] variance) {
        static Sums of(BinObservations reference, int k, int pivot, double seconds) {
            int bins = reference.size();
            Sums s = new Sums(
                    new double[bins + 1],
                    new double[bins + 1],
                    new double[bins + 1],
                    new double[bins + 1],
                    new double[bins + 1]);
            for (int i = 0; i < bins; i++) {
                double own = reference.re(i, pivot, pivot);
                double noise = reference.noise(i, k);
                double pivotNoise = reference.noise(i, pivot);
                double cos = Math.cos(2 * Math.PI * reference.hz(i) * seconds);
                double sin = Math.sin(2 * Math.PI * reference.hz(i) * seconds);
                double r = reference.re(i, k, pivot);
                double m = reference.im(i, k, pivot);
                s.crossRe[i + 1] = s.crossRe[i] + r * cos - m * sin;
                s.crossIm[i + 1] = s.crossIm[i] + r * sin + m * cos;
                s.power[i + 1] = s.power[i] + own - reference.count(i) * pivotNoise;
                s.noise[i + 1] = s.noise[i] + reference.count(i) * pivotNoise;
                s.variance[i + 1] = s.variance[i]
                        + (own * noise + (reference.re(i, k, k) - reference.count(i) * noise) * pivotNoise)
                                / reference.averages();
            }
            return s;
        }

        /** Gains by the octave around each bin; returns ln|g| over the whole range. */
        double into(BinObservations reference, double[] re, double[] im) {
            double half = Math.pow(2, OCTAVES / 2);
            for (int i = 0; i < re.length; i++) {
                int a = reference.firstAtOrAbove(reference.hz(i) / half);
                int b = reference.firstAtOrAbove(reference.hz(i) * half);
                if (!tell(a, b)) {
                    a = 0;
                    b = re.length;
                }
                re[i] = re(a, b);
                im[i] = im(a, b);
            }
            return logLevel(0, re.length);
        }

        /** Whether these bins hold more sound than noise. */
        boolean tell(int from, int to) {
            return power[to] - power[from] > noise[to] - noise[from];
        }

        double logLevel(int from, int to) {
            return Math.log(Math.hypot(re(from, to), im(from, to)));
        }

        double re(int from, int to) {
            return (crossRe[to] - crossRe[from]) / (power[to] - power[from]);
        }

        double im(int from, int to) {
            return (crossIm[to] - crossIm[from]) / (power[to] - power[from]);
        }

        /** Variance of the complex ratio, relative to its square. */
        double relativeVariance(int from, int to) {
            double p = power[to] - power[from];
            double g = Math.hypot(re(from, to), im(from, to));
            return Math.max(LEAST_VARIANCE, (variance[to] - variance[from]) / (p * p * g * g));
        }
    }

    /** One level and one delay for all frequencies. */
    private record OneGain(double logLevel, double seconds) {
        /** Null where these do not explain the octaves. */
        static @Nullable OneGain of(BinObservations reference, int k, int pivot) {
            double seconds = 0;
            Step step = step(reference, Sums.of(reference, k, pivot, seconds));
            for (int round = 1; round < ROUNDS; round++) {
                seconds += step.seconds;
                step = step(reference, Sums.of(reference, k, pivot, seconds));
            }
            return step.explains() ? new OneGain(step.logLevel, seconds + step.seconds) : null;
        }

        /** Level, what is left of the delay, and what both leave of the octaves. */
        private record Step(double logLevel, double seconds, double chiSquare, double freedom) {
            boolean explains() {
                return freedom > 0
                        && chiSquare <= new ChiSquaredDistribution(freedom).inverseCumulativeProbability(1 - MISTAKEN);
            }
        }

        private static Step step(BinObservations reference, Sums sums) {
            FrequencyBands octaves = FrequencyBands.within(1, reference.hz(0), reference.hz(reference.size() - 1));
            int n = octaves.size();
            double[] log = new double[n];
            double[] phase = new double[n];
            double[] omega = new double[n];
            double[] weight = new double[n];
            double total = 0;
            double level = 0;
            double turn = 0;
            double lever = 0;
            for (int b = 0; b < n; b++) {
                int from = reference.firstAtOrAbove(octaves.lowerEdge(b));
                int to = reference.firstAtOrAbove(octaves.upperEdge(b));
                if (to <= from || !sums.tell(from, to)) {
                    continue;
                }
                log[b] = sums.logLevel(from, to);
                phase[b] = Math.atan2(sums.im(from, to), sums.re(from, to));
                omega[b] = 2 * Math.PI * meanHz(reference, sums, from, to);
                weight[b] = 2 / sums.relativeVariance(from, to);
                total += weight[b];
                level += weight[b] * log[b];
                turn += weight[b] * omega[b] * phase[b];
                lever += weight[b] * omega[b] * omega[b];
            }
            double a = level / total;
            double tau = -turn / lever;
            double chi = 0;
            int used = 0;
            for (int b = 0; b < n; b++) {
                if (weight[b] > 0) {
                    chi += weight[b] * (Math.pow(log[b] - a, 2) + Math.pow(phase[b] + omega[b] * tau, 2));
                    used++;
                }
            }
            return new Step(a, tau, chi, 2.0 * used - 2);
        }

        /** Gains of this level and delay; returns ln|g|. */
        double into(BinObservations reference, double[] re, double[] im) {
            for (int i = 0; i < re.length; i++) {
                double phase = -2 * Math.PI * reference.hz(i) * seconds;
                re[i] = Math.exp(logLevel) * Math.cos(phase);
                im[i] = Math.exp(logLevel) * Math.sin(phase);
            }
            return logLevel;
        }

        private static double meanHz(BinObservations reference, Sums sums, int from, int to) {
            double sum = 0;
            for (int i = from; i < to; i++) {
                sum += reference.hz(i) * (sums.power[i + 1] - sums.power[i]);
            }
            return sum / (sums.power[to] - sums.power[from]);
        }
    }
}
