package ohmprint.audio;

/**
 * The pace of samples by the computer's clock, from blocks that come in bursts.
 *
 * <p>After t seconds with g seconds as the longest wait between two blocks, the pace is known to about g/t. It counts as
 * right as soon as that tells it from the nearest other usual rate, 8.8 % away (44.1 and 48 kHz), and as wrong only after
 * some windows of two seconds: what has piled up in a server comes at once in the beginning, and a busy computer makes
 * pauses.
 */
final class Pace {
    private static final double DECIDED_WITHIN = 0.07;
    private static final double RIGHT_WITHIN = 0.045;
    private static final double LEAST_SECONDS = 0.2;
    private static final double WINDOW_SECONDS = 2;
    private static final int MOST_WINDOWS = 3;

    private final double rate;
    private int windows = 1;
    private long begin;
    private long last;
    private long longest;
    private long frames;

    /**
     * A pace to be measured.
     *
     * @param rate the rate that it should have, hertz
     * @param nanoTime when the block before the first one that counts had passed
     */
    Pace(double rate, long nanoTime) {
        this.rate = rate;
        this.begin = nanoTime;
        this.last = nanoTime;
    }

    /** A block has passed; returns false when enough have. */
    boolean passed(int count, long nanoTime) {
        frames += count;
        longest = Math.max(longest, nanoTime - last);
        last = nanoTime;
        double seconds = seconds();
        double known = longest * 1e-9 / seconds;
        boolean decided = off() + known < DECIDED_WITHIN;
        if (seconds < LEAST_SECONDS) {
            return true;
        }
        if (decided || (seconds >= WINDOW_SECONDS && windows == MOST_WINDOWS)) {
            return false;
        }
        if (seconds >= WINDOW_SECONDS) {
            windows++;
            begin = nanoTime;
            frames = 0;
            longest = 0;
        }
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
