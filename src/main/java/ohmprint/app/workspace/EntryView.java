package ohmprint.app.workspace;

import java.util.List;
import ohmprint.library.Entry;
import org.jspecify.annotations.Nullable;

/**
 * A measurement of the library as lists show it, in plain values.
 *
 * @param id identifier, twelve hexadecimal digits
 * @param label what the bench calls the microphone
 * @param maker maker, or null
 * @param model model, or null
 * @param serial serial number, or null
 * @param transducer principle, or null
 * @param measuredAt when the curve was computed, ISO 8601
 * @param addedAt when it came into this library, ISO 8601
 * @param operator who measured or handed it in
 * @param note free text, or null
 * @param route what the takes were compared with
 * @param verdict how far it can be trusted
 * @param findings codes of the findings
 * @param loads the loads in words
 * @param input the recording input in words
 * @param parallelWithInput whether the ohms are those of the source in parallel with the input
 * @param ohmAt1khz |Z| at 1 kHz in ohms, or null
 * @param supersededBy identifier of the measurement that took its place, or null
 * @param sha256 SHA-256 of its {@code curve.json}
 */
public record EntryView(
        String id,
        String label,
        @Nullable String maker,
        @Nullable String model,
        @Nullable String serial,
        @Nullable String transducer,
        String measuredAt,
        String addedAt,
        String operator,
        @Nullable String note,
        String route,
        String verdict,
        List<String> findings,
        String loads,
        String input,
        boolean parallelWithInput,
        @Nullable Double ohmAt1khz,
        @Nullable String supersededBy,
        String sha256) {
    static EntryView of(Entry e) {
        return new EntryView(
                e.id(),
                e.label(),
                e.maker(),
                e.model(),
                e.serial(),
                e.transducer(),
                e.measuredAt().toString(),
                e.addedAt().toString(),
                e.operator(),
                e.note(),
                e.route(),
                e.verdict(),
                e.findings().isEmpty() ? List.of() : List.of(e.findings().split(" ", -1)),
                e.loads(),
                e.input(),
                e.parallelWithInput(),
                e.ohmAt1kHz(),
                e.supersededBy(),
                e.sha256());
    }
}
