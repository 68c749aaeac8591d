package ohmprint.app.audition;

import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What an audition came to.
 *
 * @param microphone label of the microphone
 * @param from what the take was recorded through, in words
 * @param to what the result is heard through, in words
 * @param lowestHz lower end of the band in which the filter follows the curve, hertz
 * @param highestHz its upper end
 * @param changes change of level at some frequencies of the band
 * @param levelChangeDb change of the level of the whole take by the filter alone, dB; NaN for silence
 * @param matchedByDb gain in dB that brought the result to the level of the take; 0 when not asked for
 * @param loweredByDb dB by which the result, and the take within the comparison, had to be lowered so that nothing clips;
 *     0 when they were not
 * @param peakDb highest sample of the result, dB relative to full scale
 * @param out the result
 * @param comparison the short comparison, or null
 * @param comparisonSeconds where the passages of the comparison begin in the take, seconds
 * @param passageSeconds length of each, seconds
 * @param notes what to know, a sentence each
 */
public record AuditionOutcome(
        String microphone,
        String from,
        String to,
        double lowestHz,
        double highestHz,
        List<Change> changes,
        double levelChangeDb,
        double matchedByDb,
        double loweredByDb,
        double peakDb,
        Path out,
        @Nullable Path comparison,
        List<Double> comparisonSeconds,
        double passageSeconds,
        List<String> notes) {
    /** Copies the lists. */
    public AuditionOutcome {
        changes = List.copyOf(changes);
        comparisonSeconds = List.copyOf(comparisonSeconds);
        notes = List.copyOf(notes);
    }

    /**
     * Change of level at one frequency.
     *
     * @param frequencyHz in hertz
     * @param changeDb 20·lg|H| in dB
     * @param u95Db its 95 % uncertainty from that of the curve, dB
     */
    public record Change(double frequencyHz, double changeDb, double u95Db) {}
}
