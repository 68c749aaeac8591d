package ohmprint.app.report;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import ohmprint.app.match.MatchRequest;
import ohmprint.chart.SheetPdf.Paper;
import org.jspecify.annotations.Nullable;

/**
 * What a sheet is wanted of.
 *
 * @param subject a curve as {@link ohmprint.app.NamedCurve} reads it, or the folder of a session
 * @param specification file of a specification to check against, or null
 * @param earlier a curve of the same microphone to compare with, before the repair, or null
 * @param workshop file that says who hands it over, or null
 * @param sound sensitivity and sound pressure for level and noise, or null
 * @param out file to write
 * @param form HTML or PDF
 * @param paper size of the pages of a PDF
 * @param time the time that the sheet states as its own
 */
public record HandOverRequest(
        String subject,
        @Nullable Path specification,
        @Nullable String earlier,
        @Nullable Path workshop,
        MatchRequest.@Nullable Sound sound,
        Path out,
        Form form,
        Paper paper,
        Instant time) {
    /** Words for the sizes of paper. */
    public static final List<String> PAPERS = Paper.words();

    /** The size with that word, A4 for null or another. */
    public static Paper paper(@Nullable String word) {
        return word == null ? Paper.A4 : Paper.of(word).orElse(Paper.A4);
    }

    /**
     * A microphone of a sensitivity in mV/Pa that hears a sound pressure in decibels, the usual one for null, with a usual
     * line level as the target.
     */
    public static MatchRequest.Sound sound(double sensitivityMv, @Nullable Double splDb) {
        return new MatchRequest.Sound(
                sensitivityMv,
                0,
                splDb == null ? MatchRequest.Sound.USUAL_SPL_DB : splDb,
                MatchRequest.Sound.USUAL_TARGET_DBU);
    }

    /** Forms of a sheet. */
    public enum Form {
        /** Pages for printing and sending. */
        PDF,
        /** One page for a browser. */
        HTML;

        /** The word for it, which is also how a file name ends. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }
}
