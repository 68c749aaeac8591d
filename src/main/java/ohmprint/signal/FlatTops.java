package ohmprint.signal;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;

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
final class FlatTops implements AudioProcessor {
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
    private final HeldSamples resolution;
    private final TopHistogram histogram = new TopHistogram();
    private final float[] crest = new float[LONGEST_CREST];
    private final int[] within = new int[DEPTHS + 3];
    private final CrestTally tally = new CrestTally();
    private final CrestTally longTally = new CrestTally();
    private int crestLength;
    private float top = FAINTEST;
    private float crestTop;
    private float fallen;
    private float lowest = LOWEST_CREST * FAINTEST;
    private float keepThreshold = TopHistogram.REACH * FAINTEST;
    private long frame;

    FlatTops(boolean positive, HeldSamples resolution) {
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
        CrestTally.Sum crests = tally.above(top * (1 - LEVEL_TOLERANCE));
        boolean cut = isEnough(crests, LEAST_SHARE) && (crests.count() >= 3 || crests.longest() >= 2 * LEAST_SAMPLES);
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

    private static boolean isEnough(CrestTally.Sum crests, double leastShare) {
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
