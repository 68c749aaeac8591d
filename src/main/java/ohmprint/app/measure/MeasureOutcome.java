package ohmprint.app.measure;

import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/**
 * What came of a measurement.
 *
 * @param measurement curve, verdict and findings
 * @param advice what dominates the uncertainty and what would lessen it, in sentences
 * @param folder folder that holds the results, or null when nothing was written because the evidence does not support a
 *     curve
 * @param files names of the files in it, in the order in which they are documented
 */
public record MeasureOutcome(
        Measurement measurement,
        List<String> advice,
        @Nullable Path folder,
        List<String> files) {
    /** Copies the lists. */
    public MeasureOutcome {
        advice = List.copyOf(advice);
        files = List.copyOf(files);
    }
}
