package ohmprint.app.measure;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.signal.ClockSkew;
import org.jspecify.annotations.Nullable;

/** What two clocks have done to the takes, in words. */
final class ClockFindings {
    private ClockFindings() {}

    /** One finding for all takes, or none when one clock served. */
    static Optional<Finding> of(
            List<TakeInspection> takes, int[] kept, ClockSkew @Nullable [] clocks, TakeDelays delays) {
        if (clocks == null && !delays.areToldByLoads()) {
            return Optional.empty();
        }
        String rates;
        if (clocks != null) {
            rates = "the recorder's clock is off the player's by "
                    + IntStream.of(kept)
                            .mapToObj(k -> String.format(Locale.ROOT, "%+.2f", clocks[k].ppm()))
                            .collect(Collectors.joining(", "))
                    + " ppm in the takes in turn; they have been resampled";
        } else {
            rates =
                    "the delays between takes are no whole samples, so playback and recording were on two clocks; against "
                            + takes.get(kept[0]).take().file() + " the takes run at "
                            + IntStream.range(0, kept.length)
                                    .mapToObj(k -> String.format(
                                            Locale.ROOT, "%+.2f", delays.relativePpm(k) - delays.relativePpm(0)))
                                    .collect(Collectors.joining(", "))
                            + " ppm, which has been taken out";
        }
        String told = delays.areToldByLoads() ? "; the loads tell the delays between takes" : "";
        return Optional.of(new Finding(
                FindingCode.CLOCK_SKEW, null, rates + told + ": one interface for both needs no correction"));
    }
}
