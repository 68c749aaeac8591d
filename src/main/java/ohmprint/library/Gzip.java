package ohmprint.library;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import ohmprint.impedance.Measurement;

/** Text as gzip and back. Source of the format: RFC 1952. */
final class Gzip {
    /** Longest text that is unpacked. */
    private static final int MOST_BYTES = Measurement.MOST_BYTES;

    private Gzip() {}

    static byte[] pack(String text) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (GZIPOutputStream out = new GZIPOutputStream(bytes)) {
            out.write(text.getBytes(StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    /** The text. Fails if the bytes are no gzip, damaged, or unpack to more than any measurement has. */
    static String unpack(byte[] bytes) throws IOException {
        try (GZIPInputStream in = new GZIPInputStream(new ByteArrayInputStream(bytes))) {
            byte[] text = in.readNBytes(MOST_BYTES + 1);
            if (text.length > MOST_BYTES) {
                throw new IOException("it unpacks to more than " + MOST_BYTES + " bytes");
            }
            return new String(text, StandardCharsets.UTF_8);
        }
    }
}
