package ohmprint.app.measure;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
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
        String told = delays.areToldByLoads() ? "; the loads tell the delays between takes" : "";
        if (clocks != null) {
            String rates = IntStream.of(kept)
                    .mapToObj(k -> String.format(Locale.ROOT, "%+.2f", clocks[k].ppm()))
                    .collect(Collectors.joining(", "));
            return Optional.of(Wording.RESAMPLED.of(null, rates, told));
        }
        String rates = IntStream.range(0, kept.length)
                .mapToObj(k -> String.format(Locale.ROOT, "%+.2f", delays.relativePpm(k) - delays.relativePpm(0)))
                .collect(Collectors.joining(", "));
        return Optional.of(Wording.TWO_CLOCKS.of(null, takes.get(kept[0]).take().file(), rates, told));
    }
}
