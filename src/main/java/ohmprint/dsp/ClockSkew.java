package ohmprint.dsp;

import java.util.List;
import java.util.stream.IntStream;

/**
 * How far the clock of a recorder is from that of the player, told by a sound that comes back later and later.
 *
 * <p>Pieces of the known sound are compared with the take where they should be: {@code C_j = Y_j·X_j*}. With the clocks
 * apart by δ, piece j at time t_j arrives δ·t_j late, {@code C_j ∝ e^(−j2πf·δ·t_j)}, while room and circuit are the same
 * in all pieces. δ maximises {@code S(δ) = Σ_f |Σ_j U_j·e^(+j2πf·δ·t_j)|²} with {@code U_j = C_j/Σ_i|C_i|}, so that each
 * frequency counts alike and pieces that lack it do not count. It is found at low frequencies first, where the search is
 * unambiguous. Pieces without a frequency in common tell nothing, as those of a single sweep.
 *
 * <p>The standard uncertainty is that of the mean over {@value #GROUPS} interleaved groups of bins.
 *
 * @param ppm how much faster the recorder's clock is than the player's, parts per million: the take lasts longer by it
 * @param standardUncertaintyPpm standard uncertainty of that; infinite when the pieces do not tell
 */
public record ClockSkew(double ppm, double standardUncertaintyPpm) {
    /** Largest difference that is searched for, parts per million. */
    public static final double SEARCH_PPM = 400;

    private static final double FROM_HZ = 80;
    private static final double[] UP_TO_HZ = {1000, 4000, 12_000};
    private static final int GROUPS = 16;
    private static final double STEPS_PER_TURN = 8;
    private static final int NEIGHBOURS = 6;
    private static final double FURTHEST_HZ_SHARE = 0.45;

    /**
     * A piece of the sound and where in the take it should be.
     *
     * @param soundFrame its first frame in the sound
     * @param takeFrame its first frame in the take if the clocks agreed
     * @param frames its length
     */
    public record Piece(int soundFrame, int takeFrame, int frames) {}

    /** Complex products of all pieces, and when they were. */
    private record Products(double[][] re, double[][] im, double[] seconds, double spacing, int first) {}

    /**
     * Compares a take with the sound that was played.
     *
     * @param sound samples of the sound
     * @param take samples of the take
     * @param pieces two or more pieces
     * @param tailFrames frames after each piece that still belong to its response
     * @param sampleRate nominal rate of both, hertz
     */
    public static ClockSkew of(double[] sound, double[] take, List<Piece> pieces, int tailFrames, double sampleRate) {
        if (pieces.size() < 2) {
            return new ClockSkew(0, Double.POSITIVE_INFINITY);
        }
        Products all = products(sound, take, pieces, tailFrames, sampleRate);
        double span = all.seconds[all.seconds.length - 1] - all.seconds[0];
        double best = 0;
        double reach = SEARCH_PPM * 1e-6;
        for (double hz : UP_TO_HZ) {
            double highest = Math.min(hz, FURTHEST_HZ_SHARE * sampleRate);
            double step = 1 / (STEPS_PER_TURN * highest * span);
            int steps = Math.max(1, (int) Math.ceil(reach / step));
            int bins = bins(all, highest);
            double centre = best;
            double[] scores = IntStream.rangeClosed(-steps, steps)
                    .parallel()
                    .mapToDouble(s -> score(all, bins, centre + s * step))
                    .toArray();
            int top = 0;
            for (int s = 0; s < scores.length; s++) {
                top = scores[s] > scores[top] ? s : top;
            }
            best = centre + (top - steps) * step;
            reach = NEIGHBOURS * step;
        }
        return refined(all, bins(all, Math.min(UP_TO_HZ[2], FURTHEST_HZ_SHARE * sampleRate)), best);
    }

    private static Products products(
            double[] sound, double[] take, List<Piece> pieces, int tailFrames, double sampleRate) {
        int longest = pieces.stream().mapToInt(Piece::frames).max().orElseThrow() + tailFrames;
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(longest));
        double spacing = sampleRate / fft.length();
        int first = (int) Math.ceil(FROM_HZ / spacing);
        int end = (int) Math.floor(Math.min(UP_TO_HZ[2], FURTHEST_HZ_SHARE * sampleRate) / spacing);
        double[][] re = new double[pieces.size()][];
        double[][] im = new double[pieces.size()][];
        IntStream.range(0, pieces.size()).parallel().forEach(j -> {
            Piece piece = pieces.get(j);
            double[] x = cut(sound, piece.soundFrame, piece.frames, fft.length());
            double[] y = cut(take, piece.takeFrame, piece.frames + tailFrames, fft.length());
            fft.forward(x);
            fft.forward(y);
            re[j] = new double[end - first];
            im[j] = new double[end - first];
            for (int i = first; i < end; i++) {
                re[j][i - first] = y[2 * i] * x[2 * i] + y[2 * i + 1] * x[2 * i + 1];
                im[j][i - first] = y[2 * i + 1] * x[2 * i] - y[2 * i] * x[2 * i + 1];
            }
        });
        for (int i = 0; i < end - first; i++) {
            double sum = 0;
            for (int j = 0; j < re.length; j++) {
                sum += Math.hypot(re[j][i], im[j][i]);
            }
            for (int j = 0; sum > 0 && j < re.length; j++) {
                re[j][i] /= sum;
                im[j][i] /= sum;
            }
        }
        double[] seconds = pieces.stream()
                .mapToDouble(p -> (p.takeFrame + p.frames / 2.0) / sampleRate)
                .toArray();
        return new Products(re, im, seconds, spacing, first);
    }

    private static double[] cut(double[] from, int at, int count, int length) {
        double[] out = new double[length];
        int start = Math.max(0, at);
        int end = Math.min(from.length, at + count);
        if (end > start) {
            System.arraycopy(from, start, out, start - at, end - start);
        }
        return out;
    }

    private static int bins(Products all, double highestHz) {
        return Math.min(all.re[0].length, (int) (highestHz / all.spacing) - all.first);
    }

    private static double score(Products all, int bins, double delta) {
        double[] derivatives = new double[3];
        double sum = 0;
        Turning turning = new Turning(all, delta);
        for (int i = 0; i < bins; i++) {
            turning.next(i, derivatives);
            sum += derivatives[0];
        }
        return sum;
    }

    /** One Newton step per group of bins from the best of the search. */
    private static ClockSkew refined(Products all, int bins, double start) {
        double best = start;
        double[] slope = new double[GROUPS];
        double[] bend = new double[GROUPS];
        for (int round = 0; round < 3; round++) {
            java.util.Arrays.fill(slope, 0);
            java.util.Arrays.fill(bend, 0);
            double[] derivatives = new double[3];
            Turning turning = new Turning(all, best);
            for (int i = 0; i < bins; i++) {
                turning.next(i, derivatives);
                slope[i % GROUPS] += derivatives[1];
                bend[i % GROUPS] -= derivatives[2];
            }
            double bends = java.util.Arrays.stream(bend).sum();
            if (!(bends > 0)) {
                return new ClockSkew(0, Double.POSITIVE_INFINITY);
            }
            best += java.util.Arrays.stream(slope).sum() / bends;
        }
        double bends = java.util.Arrays.stream(bend).sum();
        double scatter = 0;
        for (double s : slope) {
            scatter += s * s;
        }
        return new ClockSkew(1e6 * best, 1e6 * Math.sqrt(scatter * GROUPS / (GROUPS - 1.0)) / bends);
    }

    /** S of one bin after the other with its first two derivatives by δ; the phases turn on from bin to bin. */
    private static final class Turning {
        private final Products all;
        private final double[] c;
        private final double[] s;
        private final double[] stepC;
        private final double[] stepS;

        Turning(Products all, double delta) {
            this.all = all;
            int n = all.seconds.length;
            c = new double[n];
            s = new double[n];
            stepC = new double[n];
            stepS = new double[n];
            for (int j = 0; j < n; j++) {
                double turn = 2 * Math.PI * delta * all.seconds[j] * all.spacing;
                c[j] = Math.cos(turn * all.first);
                s[j] = Math.sin(turn * all.first);
                stepC[j] = Math.cos(turn);
                stepS[j] = Math.sin(turn);
            }
        }

        /** Moves to bin {@code i}, counted from 0 upwards. */
        void next(int i, double[] out) {
            double omega = 2 * Math.PI * (i + all.first) * all.spacing;
            double v = 0;
            double w = 0;
            double v1 = 0;
            double w1 = 0;
            double v2 = 0;
            double w2 = 0;
            for (int j = 0; j < c.length; j++) {
                double a = all.re[j][i] * c[j] - all.im[j][i] * s[j];
                double b = all.re[j][i] * s[j] + all.im[j][i] * c[j];
                double o = omega * all.seconds[j];
                v += a;
                w += b;
                v1 -= o * b;
                w1 += o * a;
                v2 -= o * o * a;
                w2 -= o * o * b;
                double next = c[j] * stepC[j] - s[j] * stepS[j];
                s[j] = s[j] * stepC[j] + c[j] * stepS[j];
                c[j] = next;
            }
            out[0] = v * v + w * w;
            out[1] = 2 * (v * v1 + w * w1);
            out[2] = 2 * (v1 * v1 + w1 * w1 + v * v2 + w * w2);
        }
    }
}
