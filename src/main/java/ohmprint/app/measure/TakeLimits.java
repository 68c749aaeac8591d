package ohmprint.app.measure;

import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.signal.TakeIndicators;

/** What takes and a request must at least allow before anything can be compared. */
final class TakeLimits {
    /** Shortest take, seconds: a few periods of the lowest bands and the ring of a room. */
    private static final double SHORTEST_SECONDS = 0.5;

    private static final double OCTAVE = 2;

    private TakeLimits() {}

    /**
     * Checks length and frequency range.
     *
     * @throws BadInputException naming the take and its length, or the range and what the takes hold
     */
    static void check(List<TakeInspection> takes, MeasureRequest request) throws BadInputException {
        for (TakeInspection take : takes) {
            TakeIndicators seen = take.indicators();
            double seconds = seen.frames() / seen.sampleRate();
            if (seconds < SHORTEST_SECONDS) {
                throw new BadInputException(String.format(
                        Locale.ROOT,
                        "take %s is %.3f s long; record at least %.1f s, better 5 s, with silence before and after",
                        take.take().file(),
                        seconds,
                        SHORTEST_SECONDS));
            }
        }
        double rate = takes.get(0).indicators().sampleRate();
        double low = Math.max(request.fromHz(), AlignedTakes.TIMING_FROM_HZ);
        double high = Math.min(Math.min(request.toHz(), AlignedTakes.TIMING_TO_HZ), ComparedTakes.HIGHEST_SHARE * rate);
        if (high < OCTAVE * low) {
            throw new BadInputException(String.format(
                    Locale.ROOT,
                    "--from %.0f Hz to --to %.0f Hz leaves less than an octave between %.0f Hz and %.0f Hz, where the takes"
                            + " are compared; widen the range",
                    request.fromHz(),
                    request.toHz(),
                    AlignedTakes.TIMING_FROM_HZ,
                    Math.min(AlignedTakes.TIMING_TO_HZ, ComparedTakes.HIGHEST_SHARE * rate)));
        }
    }
}
