package ohmprint.dsp;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Flat tops in a take, whether at full scale or, clipped further up the chain, below it.
 *
 * @param milliseconds total time that the signal stands at its flat level, both polarities together
 * @param levelDbfs the level at which it flattens, as a peak value: {@code 20·log₁₀} relative to full scale
 * @param polarity which half-waves are flattened
 * @param firstSeconds when it first does, in seconds from the start of the take
 */
public record Clipping(double milliseconds, double levelDbfs, Polarity polarity, double firstSeconds) {
    private static final double LEAST_CLIPPED_MS = 0.4;

    /** Which half-waves are flattened. */
    public enum Polarity {
        /** Only the positive ones. */
        POSITIVE,
        /** Only the negative ones. */
        NEGATIVE,
        /** Both. */
        BOTH
    }

    /** What both polarities together gave, if that lasts long enough to be heard of. */
    static Optional<Clipping> of(Detector positive, Detector negative, double sampleRate) {
        Detector.@Nullable FlatLevel up = positive.found();
        Detector.@Nullable FlatLevel down = negative.found();
        if (up == null && down == null) {
            return Optional.empty();
        }
        long samples = (up == null ? 0 : up.samples()) + (down == null ? 0 : down.samples());
        double ms = 1000 * samples / sampleRate;
        if (ms < LEAST_CLIPPED_MS) {
            return Optional.empty();
        }
        double flat = Math.max(up == null ? 0 : up.level(), down == null ? 0 : down.level());
        long first = Math.min(
                up == null ? Long.MAX_VALUE : up.firstFrame(), down == null ? Long.MAX_VALUE : down.firstFrame());
        Polarity polarity = up == null ? Polarity.NEGATIVE : down == null ? Polarity.POSITIVE : Polarity.BOTH;
        return Optional.of(new Clipping(ms, 20 * Math.log10(flat), polarity, first / sampleRate));
    }

    /** In words, for a message: "clips for 41 ms at -6.0 dBFS from 1.234 s". */
    public String inWords() {
        String duration =
                milliseconds < 9.95 ? String.format(Locale.ROOT, "%.1f", milliseconds) : "" + Math.round(milliseconds);
        String level = String.format(Locale.ROOT, "%.1f", Math.abs(levelDbfs));
        String sign = levelDbfs < 0 && !level.equals("0.0") ? "-" : "";
        String which =
                polarity == Polarity.BOTH ? "" : " (" + polarity.name().toLowerCase(Locale.ROOT) + " half-waves)";
        return String.format(
                Locale.ROOT, "clips for %s ms at %s%s dBFS%s from %.3f s", duration, sign, level, which, firstSeconds);
    }

    /**
     * Looks in one polarity for a level that the signal reaches and does not pass: flat tops, at any level.
     *
     * <p>Two tests, blind to the absolute level. With depth d below the top as a fraction of it:
     *
     * <ul>
     *   <li>Each crest by itself: a smooth crest is a parabola, so the number of its samples within 8d is √8 times the number
     *       within d. A cut crest has hardly more samples within 8d than within d, for its flanks are steep. The crests may lie below
     *       the highest sample, for filters after the clipping let short crests overshoot: eight flats of eight samples or more must then lie
     *       within 2.4 % of one level.
     *   <li>All samples together, for crests of one or two samples: the number within d over that within 4d is 1/2 for a sine
     *       of constant amplitude, less for a varying one and for noise, and tends to 1 for flat tops. Few repeating
     *       phases of a steady tone give 1 too, but then the stretch from 4d to 16d is empty or holds whole phases.
     * </ul>
     *
     * <p>Depths d from 0.0125 % to 1.6 % are tried, none below two quantisation steps, so noise added after the clipping may
     * hide only what is shallower than itself. Noise that was clipped ahead of a steep filter has lost its flat level and is
     * not found. One pass, bounded memory: what lies well below the highest sample so far is
     * forgotten.
     */
    static final class Detector implements AudioProcessor {
        private static final double SHALLOWEST = 1.25e-4;
        private static final int DEPTHS = 8;
        private static final int TOP_DEPTHS = 7;
        private static final float CREST = 0.86f;
        private static final float LOWEST_CREST = 0.6f;
        private static final float RISES_AGAIN = 1.03f;
        private static final int LONGEST_CREST = 1 << 14;
        private static final float FAINTEST = 0x1p-22f;
        private static final double LEVEL_TOLERANCE = 0.012;
        private static final int LEAST_SAMPLES = 12;
        private static final int LEAST_PILE = 20;
        private static final double LEAST_SHARE = 0.1;
        private static final int LONG_FLAT = 8;
        private static final int LEAST_CRESTS_BELOW = 8;
        private static final double LEAST_SHARE_BELOW = 0.3;
        private static final double LEAST_CONCENTRATION = 0.4;

        private final float sign;
        private final Dropout.Detector resolution;
        private final TopHistogram histogram = new TopHistogram();
        private final float[] crest = new float[LONGEST_CREST];
        private final int[] within = new int[DEPTHS + 3];
        private final CrestHistogram tally = new CrestHistogram();
        private final CrestHistogram longTally = new CrestHistogram();
        private int crestLength;
        private float top = FAINTEST;
        private float crestTop;
        private float fallen;
        private float lowest = LOWEST_CREST * FAINTEST;
        private float keepThreshold = TopHistogram.REACH * FAINTEST;
        private long frame;

        Detector(boolean positive, Dropout.Detector resolution) {
            this.sign = positive ? 1 : -1;
            this.resolution = resolution;
        }

        @Override
        public boolean process(AudioEvent event) {
            float[] x = event.getFloatBuffer();
            for (int i = 0; i < x.length; i++) {
                if (crestTop == 0) {
                    i = nextAtLeast(lowest, x, i);
                    if (i == x.length) {
                        break;
                    }
                }
                float v = sign * x[i];
                if (v >= keepThreshold) {
                    if (v > top) {
                        raise(v);
                    }
                    histogram.add(v, frame + i);
                }
                if (v >= lowest) {
                    follow(v, frame + i);
                } else if (crestTop > 0) {
                    closeCrest(frame + i);
                    crestTop = 0;
                }
            }
            frame += x.length;
            return true;
        }

        /** Between crests, which is most of the time, nothing but the first sample of the next one is looked for. */
        private int nextAtLeast(float bound, float[] x, int from) {
            int i = from;
            while (i < x.length && sign * x[i] < bound) {
                i++;
            }
            return i;
        }

        private void raise(float v) {
            top = v;
            lowest = LOWEST_CREST * v;
            keepThreshold = TopHistogram.REACH * v;
        }

        /** Gathers a crest until the signal has fallen to 0.86 of it; the next begins where the signal rises again. */
        private void follow(float v, long at) {
            if (fallen > 0) {
                if (v <= fallen * RISES_AGAIN) {
                    fallen = Math.min(fallen, v);
                    return;
                }
                fallen = 0;
                crestTop = 0;
            }
            if (v > crestTop) {
                crestTop = v;
            }
            if (v < CREST * crestTop) {
                closeCrest(at);
                fallen = v;
            } else if (crestLength < LONGEST_CREST) {
                crest[crestLength++] = v;
            }
        }

        private void closeCrest(long end) {
            int n = crestLength;
            float local = crestTop;
            crestLength = 0;
            fallen = 0;
            boolean flanksSeen = CREST * local >= lowest;
            if (n < 3 || !flanksSeen) {
                return;
            }
            countDepths(n, local);
            if (within[TOP_DEPTHS - 1] >= 3) {
                tally.add(local, within[TOP_DEPTHS - 1], flatSamples(local, TOP_DEPTHS), end - n, top);
            }
            if (within[DEPTHS - 1] >= LONG_FLAT) {
                int flat = flatSamples(local, DEPTHS);
                longTally.add(local, within[DEPTHS - 1], flat >= LONG_FLAT ? flat : 0, end - n, top);
            }
        }

        /** Samples on the flat of the crest just counted, at the depth where its flanks are steepest; 0 when it is whole. */
        private int flatSamples(float local, int depths) {
            double finest = 2 * resolution.stepAt(local);
            int best = -1;
            for (int k = 0; k < depths; k++) {
                boolean flat =
                        within[k] >= 3 && within[k + 3] <= 1.4 * within[k] && SHALLOWEST * (1 << k) * local >= finest;
                if (flat && (best < 0 || (long) within[k + 3] * within[best] < (long) within[best + 3] * within[k])) {
                    best = k;
                }
            }
            return best < 0 ? 0 : within[best];
        }

        private void countDepths(int n, float local) {
            Arrays.fill(within, 0);
            float scale = (float) (1 / (SHALLOWEST * local));
            for (int i = 0; i < n; i++) {
                float depth = (local - crest[i]) * scale;
                int k = depth <= 1 ? 0 : Math.getExponent(depth) + 1;
                if (k < within.length) {
                    within[k]++;
                }
            }
            for (int k = 1; k < within.length; k++) {
                within[k] += within[k - 1];
            }
        }

        @Override
        public void processingFinished() {
            if (crestLength > 0) {
                closeCrest(frame);
            }
        }

        /** The flat level found in this polarity, or null. */
        @Nullable
        FlatLevel found() {
            CrestHistogram.Sum crests = tally.above(top * (1 - LEVEL_TOLERANCE));
            boolean cut =
                    isEnough(crests, LEAST_SHARE) && (crests.count() >= 3 || crests.longest() >= 2 * LEAST_SAMPLES);
            if (!cut) {
                crests = longTally.densest(2 * LEVEL_TOLERANCE);
                cut = isEnough(crests, LEAST_SHARE_BELOW)
                        && crests.count() >= LEAST_CRESTS_BELOW
                        && crests.samples()
                                >= LEAST_CONCENTRATION * longTally.above(0).samples();
            }
            double pile = pileUpDepth();
            if (!cut && pile == 0) {
                return null;
            }
            double depth = pile > 0 ? pile : LEVEL_TOLERANCE;
            long samples = Math.max(cut ? crests.samples() : 0, pile > 0 ? histogram.count(top, pile) : 0);
            double level = pile > 0 ? histogram.meanLevel(top, pile) : crests.level();
            long first = Math.min(
                    cut ? crests.firstFrame() : Long.MAX_VALUE,
                    pile > 0 ? histogram.firstFrame(top, depth) : Long.MAX_VALUE);
            return new FlatLevel(level, samples, first);
        }

        private static boolean isEnough(CrestHistogram.Sum crests, double leastShare) {
            return crests.samples() >= LEAST_SAMPLES && crests.samples() >= leastShare * crests.tested();
        }

        /** The shallowest depth at which all samples together show a pile-up, at it and at twice it; 0 when there is none. */
        private double pileUpDepth() {
            boolean before = false;
            double finest = 2 * resolution.stepAt(top);
            for (int k = 2; k < TOP_DEPTHS; k++) {
                double depth = SHALLOWEST * (1 << k);
                boolean now = depth * top >= finest && pilesUp(depth);
                if (now && before) {
                    return depth / 2;
                }
                before = now;
            }
            return 0;
        }

        private boolean pilesUp(double depth) {
            long one = histogram.count(top, depth);
            long four = histogram.count(top, 4 * depth);
            long between = histogram.count(top, 16 * depth) - four;
            return one >= LEAST_PILE && one >= 0.8 * four && between >= 3 + 0.005 * one && between <= 0.9 * one;
        }

        /** What one polarity gave: the level (relative to full scale), the samples that stand there, the first of them. */
        record FlatLevel(double level, long samples, long firstFrame) {}
    }

    /** Crests, cut and whole, gathered by their height; those far below the highest sample so far are forgotten. */
    private static final class CrestHistogram {
        private static final int COARSE_BITS = 14;
        private static final double KEPT = 0.69;
        private static final int MOST_LEVELS = 1024;

        private final TreeMap<Integer, Sum> levels = new TreeMap<>();

        /**
         * Adds a crest.
         *
         * @param height its highest sample
         * @param tested its samples near the top, cut or not
         * @param flat its samples on the flat, 0 when it is whole
         * @param frame its first frame
         * @param highest the highest sample of the take so far
         */
        void add(float height, int tested, int flat, long frame, float highest) {
            Sum crest = new Sum(tested, flat > 0 ? 1 : 0, flat, flat, flat > 0 ? frame : Long.MAX_VALUE, height);
            levels.merge(key(height), crest, Sum::plus);
            if (levels.size() > MOST_LEVELS) {
                levels.headMap(key((float) (KEPT * highest))).clear();
            }
        }

        /** The sum of all crests at or above a level. */
        Sum above(double level) {
            return sum(levels.tailMap(key((float) level)));
        }

        /** The sum of the crests within that relative distance of one another that holds the most samples of cut ones. */
        Sum densest(double width) {
            Sum best = above(Float.MAX_VALUE);
            for (int from : levels.keySet()) {
                float low = Float.intBitsToFloat(from << COARSE_BITS);
                Sum sum = sum(levels.subMap(from, key((float) (low * (1 + width)))));
                if (sum.samples() > best.samples()) {
                    best = sum;
                }
            }
            return best;
        }

        private static Sum sum(SortedMap<Integer, Sum> part) {
            Sum sum = new Sum(0, 0, 0, 0, Long.MAX_VALUE, 0);
            for (Sum s : part.values()) {
                sum = sum.plus(s);
            }
            return sum;
        }

        private static int key(float level) {
            return Float.floatToRawIntBits(level) >>> COARSE_BITS;
        }

        /**
         * A sum over crests.
         *
         * @param tested samples near the top of all crests
         * @param count number of cut crests
         * @param samples samples on their flats
         * @param longest the longest flat, in samples
         * @param firstFrame where the first cut crest begins; the greatest long when there is none
         * @param level mean height of the cut crests, weighted by samples; 0 when there is none
         */
        record Sum(long tested, long count, long samples, int longest, long firstFrame, double level) {
            Sum plus(Sum other) {
                long all = samples + other.samples;
                return new Sum(
                        tested + other.tested,
                        count + other.count,
                        all,
                        Math.max(longest, other.longest),
                        Math.min(firstFrame, other.firstFrame),
                        all == 0 ? 0 : (level * samples + other.level * other.samples) / all);
            }
        }
    }

    /**
     * Counts of sample values near the highest one, on a logarithmic scale, in a ring that the highest sample pushes along.
     *
     * <p>The bins are those of the floating-point format: 8192 an octave, so 0.006 % to 0.012 % wide. The ring holds two
     * octaves; a higher sample clears the bins it moves into.
     */
    private static final class TopHistogram {
        /** Samples below this fraction of the highest need not be added. */
        static final float REACH = 0.86f;

        private static final int FINE_BITS = 10;
        private static final int SIZE = 1 << 14;
        private static final int PER_MARK = 16;

        private final int[] counts = new int[SIZE];
        private final long[] firsts = new long[SIZE / PER_MARK];
        private int topBin = -1;

        TopHistogram() {
            Arrays.fill(firsts, -1);
        }

        void add(float v, long frame) {
            int bin = bin(v);
            if (bin > topBin) {
                moveTo(bin);
            }
            counts[bin & (SIZE - 1)]++;
            int mark = (bin / PER_MARK) & (firsts.length - 1);
            if (firsts[mark] < 0) {
                firsts[mark] = frame;
            }
        }

        private void moveTo(int bin) {
            if (topBin < 0 || bin - topBin >= SIZE) {
                Arrays.fill(counts, 0);
                Arrays.fill(firsts, -1);
            } else {
                for (int b = topBin + 1; b <= bin; b++) {
                    counts[b & (SIZE - 1)] = 0;
                }
                for (int m = topBin / PER_MARK + 1; m <= bin / PER_MARK; m++) {
                    firsts[m & (firsts.length - 1)] = -1;
                }
            }
            topBin = bin;
        }

        /** How many samples lie at or above {@code (1 − depth)·top}. */
        long count(float top, double depth) {
            long n = 0;
            for (int b = bin((float) (top * (1 - depth))); b <= topBin; b++) {
                n += counts[b & (SIZE - 1)];
            }
            return n;
        }

        /** Mean of the samples at or above {@code (1 − depth)·top}. */
        double meanLevel(float top, double depth) {
            long n = 0;
            double sum = 0;
            for (int b = bin((float) (top * (1 - depth))); b <= topBin; b++) {
                int c = counts[b & (SIZE - 1)];
                n += c;
                sum += c * (double) Float.intBitsToFloat((b << FINE_BITS) | (1 << (FINE_BITS - 1)));
            }
            return n == 0 ? top : sum / n;
        }

        /** The first frame whose sample lies at or above {@code (1 − depth)·top}, to the resolution of the marks. */
        long firstFrame(float top, double depth) {
            long first = Long.MAX_VALUE;
            for (int m = bin((float) (top * (1 - depth))) / PER_MARK; m <= topBin / PER_MARK; m++) {
                long f = firsts[m & (firsts.length - 1)];
                if (f >= 0 && f < first) {
                    first = f;
                }
            }
            return first;
        }

        private static int bin(float v) {
            return Float.floatToRawIntBits(v) >>> FINE_BITS;
        }
    }
}
