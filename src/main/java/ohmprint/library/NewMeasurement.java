package ohmprint.library;

import ohmprint.curve.Measurement;
import org.jspecify.annotations.Nullable;

/**
 * A measurement that goes into a library.
 *
 * @param document the text of its {@code curve.json}, kept byte for byte
 * @param measurement what that text says
 * @param operator who measured or hands it in
 * @param note free text about it, or null
 */
public record NewMeasurement(
        String document,
        Measurement measurement,
        String operator,
        @Nullable String note) {
    /** Its SHA-256, 64 lower-case hexadecimal digits. */
    public String sha256() {
        return Digest.sha256(document);
    }

    /** The identifier that it has in every library. */
    public String id() {
        return Digest.id(sha256());
    }
}
