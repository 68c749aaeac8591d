package ohmprint.signal;

import java.util.SortedMap;
import java.util.TreeMap;

/** Crests, cut and whole, gathered by their height; those far below the highest sample so far are forgotten. */
final class CrestTally {
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
