package ohmprint.library;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A measurement of the library as lists show it.
 *
 * @param id identifier, twelve hexadecimal digits
 * @param sha256 SHA-256 of its document
 * @param microphoneId identifier of the microphone
 * @param label what the bench calls the microphone
 * @param maker maker, or null
 * @param model model, or null
 * @param serial serial number, or null
 * @param transducer principle, or null
 * @param measuredAt when the curve was computed
 * @param addedAt when it came into this library
 * @param operator who measured or handed it in
 * @param note free text, or null
 * @param route what the takes were compared with, as a word
 * @param verdict how far it can be trusted, as a word
 * @param findings codes of the findings, separated by blanks
 * @param loads the loads in words
 * @param input the recording input in words
 * @param parallelWithInput true when the ohms are those of the source in parallel with the input
 * @param ohmAt1kHz |Z| at 1 kHz in ohms, or null when there is no value
 * @param supersededBy identifier of the measurement that took its place, or null
 */
public record Entry(
        String id,
        String sha256,
        String microphoneId,
        String label,
        @Nullable String maker,
        @Nullable String model,
        @Nullable String serial,
        @Nullable String transducer,
        Instant measuredAt,
        Instant addedAt,
        String operator,
        @Nullable String note,
        String route,
        String verdict,
        String findings,
        String loads,
        String input,
        boolean parallelWithInput,
        @Nullable Double ohmAt1kHz,
        @Nullable String supersededBy) {}
