package ohmprint.dsp;

import java.util.Arrays;

/**
 * Where the sound begins and ends, from short-time levels.
 *
 * <p>The background is the median of the blocks from the start so far, so steady hum and noise belong to it. The sound
 * begins where the level rises 6 dB above the median, and 2 dB above nine tenths of those blocks, and stays there for half
 * of the next 0.2 s, followed back to where it left the background. The background must last 0.1 s and lie 15 dB below
 * the level that the loudest twentieth of the take passes; if not, the take starts inside the sound. Zeros before the
 * background are passed over where the sound stands out of what follows them and the take ends at the level of that, or ends inside
 * the sound and that is steady: else the beginning of the sound would pass for background. The end is found in the same way from
 * behind. Levels are taken about the direct component of the first, or last, 0.1 s.
 */
final class ActivityDetector {
    /** Power ratio up to which what is before the sound and after it is one background: 10 dB, for a room that still rings. */
    private static final double SAME_BACKGROUND = 10;

    /** Power ratio by which the second half of a steady background may exceed the first: 4 dB. */
    private static final double STEADY = 2.5;

    private static final double LEAST_QUIET_SECONDS = 0.1;
    private static final double CONFIRM_SECONDS = 0.2;
    private static final double LONGEST_BACKGROUND_SECONDS = 20;
    private static final double RISE = 4;
    private static final double ABOVE_MOST = 1.6;
    private static final double LEAST_CONTRAST = Math.pow(10, 1.5);
    private static final double FAINTEST = 1e-15;

    private ActivityDetector() {}

    /** Whether blocks before a rise are background: the take ends like that, or ends inside the sound and they are steady. */
    private static boolean isBackground(double[] p, int from, int to, int quiet) {
        double level = median(p, from, to);
        double after = median(p, Math.max(to, p.length - quiet), p.length);
        if (after < SAME_BACKGROUND * level) {
            return after > level / SAME_BACKGROUND;
        }
        int middle = (from + to) / 2;
        return median(p, middle, to) < STEADY * median(p, from, middle);
    }

    private static double median(double[] p, int from, int to) {
        double[] sorted = Arrays.copyOfRange(p, from, Math.max(from + 1, to));
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }

    /** Index of the first block of sound, or −1 when the take starts inside the sound or holds none. */
    static int firstBlock(LevelMeter meter) {
        int quiet = Math.min(meter.blocks(), leastQuiet(meter.blockSeconds()));
        double[] p = meter.powerAbout(meter.offset(0, quiet));
        int zeros = 0;
        while (zeros < p.length && p[zeros] == 0) {
            zeros++;
        }
        if (zeros > 0 && zeros + quiet < p.length) {
            // The first block of what follows may hold zeros too.
            int from = zeros + 1;
            double[] rest = meter.powerAbout(meter.offset(from, Math.min(p.length, from + quiet)));
            int rise = firstRise(Arrays.copyOfRange(rest, from, rest.length), meter.blockSeconds());
            if (rise >= 0 && isBackground(rest, from, from + rise, quiet)) {
                return from + rise;
            }
        }
        return firstRise(p, meter.blockSeconds());
    }

    /** One past the last block of sound, or −1 when the take ends inside the sound or holds none. */
    static int endBlock(LevelMeter meter) {
        int quiet = Math.min(meter.blocks(), leastQuiet(meter.blockSeconds()));
        double[] forward = meter.powerAbout(meter.offset(meter.blocks() - quiet, meter.blocks()));
        double[] p = new double[forward.length];
        Arrays.setAll(p, i -> forward[forward.length - 1 - i]);
        int rise = firstRise(p, meter.blockSeconds());
        return rise < 0 ? -1 : p.length - rise;
    }

    private static int leastQuiet(double blockSeconds) {
        return (int) Math.max(3, Math.ceil(LEAST_QUIET_SECONDS / blockSeconds - 1e-6));
    }

    private static int firstRise(double[] p, double blockSeconds) {
        int least = leastQuiet(blockSeconds);
        int confirm = (int) Math.max(4, Math.round(CONFIRM_SECONDS / blockSeconds));
        int most = (int) Math.min(p.length, Math.ceil(LONGEST_BACKGROUND_SECONDS / blockSeconds));
        double[] sorted = new double[most];
        int held = 0;
        for (int i = 0; i + confirm / 2 < p.length; i++) {
            if (held >= least) {
                double median = Math.max(sorted[held / 2], FAINTEST);
                double threshold = Math.max(RISE * median, ABOVE_MOST * sorted[(held * 9) / 10]);
                if (p[i] > threshold && staysAbove(p, i, confirm, threshold)) {
                    return median * LEAST_CONTRAST <= loud(p) ? followBack(p, i, least, confirm, 2 * median) : -1;
                }
            }
            if (held < most) {
                int at = Arrays.binarySearch(sorted, 0, held, p[i]);
                at = at < 0 ? -at - 1 : at;
                System.arraycopy(sorted, at, sorted, at + 1, held - at);
                sorted[at] = p[i];
                held++;
            }
        }
        return -1;
    }

    private static boolean staysAbove(double[] p, int from, int count, double threshold) {
        int to = Math.min(p.length, from + count);
        int above = 0;
        for (int i = from; i < to; i++) {
            if (p[i] > threshold) {
                above++;
            }
        }
        return 2 * above >= to - from;
    }

    private static int followBack(double[] p, int rise, int least, int furthest, double background) {
        int i = rise;
        while (i > least && rise - i < furthest && p[i - 1] > background) {
            i--;
        }
        return i;
    }

    private static double loud(double[] p) {
        double[] sorted = p.clone();
        Arrays.sort(sorted);
        return sorted[(int) (0.95 * (sorted.length - 1))];
    }
}
