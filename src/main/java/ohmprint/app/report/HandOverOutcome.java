package ohmprint.app.report;

import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/**
 * What came of it.
 *
 * @param measurement the measurement that the sheet is about
 * @param file the file that was written
 * @param bytes its length
 * @param sections headings of the sheet
 * @param verdict verdict on the specification, or null when there was none
 * @param warning that the earlier curve is that of another microphone, or null
 */
public record HandOverOutcome(
        Measurement measurement,
        Path file,
        long bytes,
        List<String> sections,
        @Nullable String verdict,
        @Nullable String warning) {
    /** Copies the list. */
    public HandOverOutcome {
        sections = List.copyOf(sections);
    }
}
