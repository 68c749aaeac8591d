package ohmprint.library;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 and the identifiers made of it. */
final class Digest {
    private static final int ID_DIGITS = 12;

    private Digest() {}

    /** SHA-256 of the UTF-8 bytes of a text, 64 lower-case hexadecimal digits. */
    static String sha256(String text) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            return HexFormat.of().formatHex(digest.digest(text.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /** The first digits, which are the identifier: two of 100 000 agree by chance once in 50 000 libraries. */
    static String id(String sha256) {
        return sha256.substring(0, ID_DIGITS);
    }
}
