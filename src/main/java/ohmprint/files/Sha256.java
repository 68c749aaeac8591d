package ohmprint.files;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 of texts and of what is read piece by piece, as 64 lower-case hexadecimal digits. Source: FIPS 180-4. */
public final class Sha256 {
    private Sha256() {}

    /** Of the UTF-8 bytes of a text. */
    public static String of(String text) {
        return of(text.getBytes(StandardCharsets.UTF_8));
    }

    /** Of bytes. */
    public static String of(byte[] content) {
        return HexFormat.of().formatHex(begun().digest(content));
    }

    /** To be fed with bytes. */
    public static MessageDigest begun() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
