package ohmprint.audio;

import java.util.ArrayList;
import java.util.List;

/**
 * Whether frames may have gone missing, from when blocks arrived. A suspicion: if a computer gets busy in the last quarter
 * of a run, all of its blocks come late.
 *
 * <p>A block that completes N frames cannot arrive before {@code t₀ + N/rate}, and some block in every quarter of a run
 * arrives hardly later. If the least lateness of the last quarter exceeds that of the first, frames may be missing between.
 */
final class ArrivalClock {
    private static final double LEAST_SECONDS = 0.03;
    private static final int FEWEST_BLOCKS = 8;

    private final double rate;
    private final List<Double> lateness = new ArrayList<>();
    private long frames;

    ArrivalClock(double rate) {
        this.rate = rate;
    }

    /** A block has arrived. */
    void arrived(int count, long nanoTime) {
        frames += count;
        lateness.add(nanoTime * 1e-9 - frames / rate);
    }

    /** Seconds that may be missing; 0 when less than can be told. */
    double lostSeconds() {
        int n = lateness.size();
        if (n < FEWEST_BLOCKS) {
            return 0;
        }
        double lost = least(n - n / 4, n) - least(0, n / 4);
        return lost > LEAST_SECONDS ? lost : 0;
    }

    private double least(int from, int to) {
        return lateness.subList(from, to).stream()
                .mapToDouble(Double::doubleValue)
                .min()
                .orElseThrow();
    }
}
