package ohmprint.audio;

/**
 * The pace of samples by the computer's clock, from blocks that come in bursts.
 *
 * <p>After t seconds with g seconds as the longest wait between two blocks, the pace is known to about g/t; a wait just
 * before counts too, since what it held up comes at once afterwards. The pace counts as right as soon as that tells it from
 * the nearest other usual rate, 8.8 % away (44.1 and 48 kHz), and as wrong after some windows of two seconds that no wait
 * explains. A busy computer may allow neither; then all windows together decide, after twenty seconds.
 */
final class Pace {
    private static final double DECIDED_WITHIN = 0.07;
    private static final double RIGHT_WITHIN = 0.045;
    private static final double UNEXPLAINED = 0.02;
    private static final double LEAST_SECONDS = 0.2;
    private static final double WINDOW_SECONDS = 2;
    private static final int WRONG_WINDOWS = 3;
    private static final int MOST_WINDOWS = 10;

    private final double rate;
    private final long first;
    private int windows;
    private int wrong;
    private long begin;
    private long last;
    private long longest;
    private long longestBefore;
    private long frames;
    private long total;

    /**
     * A pace to be measured.
     *
     * @param rate the rate that it should have, hertz
     * @param nanoTime when the block before the first one that counts had passed
     */
    Pace(double rate, long nanoTime) {
        this.rate = rate;
        this.first = nanoTime;
        this.begin = nanoTime;
        this.last = nanoTime;
    }

    /** A block has passed; returns false when enough have. */
    boolean passed(int count, long nanoTime) {
        frames += count;
        total += count;
        longest = Math.max(longest, nanoTime - last);
        last = nanoTime;
        double seconds = seconds();
        if (seconds < LEAST_SECONDS) {
            return true;
        }
        double known = Math.max(longest, longestBefore) * 1e-9 / seconds;
        if (off() + known < DECIDED_WITHIN) {
            return false;
        }
        if (seconds < WINDOW_SECONDS) {
            return true;
        }
        windows++;
        wrong += off() - known > UNEXPLAINED ? 1 : 0;
        if (wrong == WRONG_WINDOWS) {
            return false;
        }
        if (windows == MOST_WINDOWS) {
            begin = first;
            frames = total;
            return false;
        }
        begin = nanoTime;
        frames = 0;
        longestBefore = longest;
        longest = 0;
        return true;
    }

    private double seconds() {
        return (last - begin) * 1e-9;
    }

    private double off() {
        return Math.abs(perSecond() / rate - 1);
    }

    /** Frames per second. */
    double perSecond() {
        return frames / seconds();
    }

    /** Whether it is that of the rate. */
    boolean right() {
        return off() < RIGHT_WITHIN;
    }
}
