package ohmprint.report;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.IntStream;
import java.util.zip.CRC32;
import java.util.zip.Deflater;

/**
 * Writes an opaque picture as PNG, eight bits each of red, green and blue.
 *
 * <p>The runtime's own encoder takes three times as long for pictures of this kind, most of it in starting and in
 * choosing filters that plain areas do not need. Source: Portable Network Graphics Specification, ISO/IEC 15948.
 */
final class Png {
    private static final byte[] SIGNATURE = {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n'};
    private static final int COMPRESSION = Deflater.BEST_SPEED;
    private static final byte[] FASTEST_WINDOW_32K = {0x78, 0x01};
    private static final int STRIPS = 4;

    private Png() {}

    static byte[] encode(BufferedImage image) {
        if (image.getType() != BufferedImage.TYPE_INT_RGB) {
            throw new IllegalArgumentException(
                    "only pictures of type INT_RGB can be encoded, not type " + image.getType());
        }
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 18);
        try (DataOutputStream out = new DataOutputStream(bytes)) {
            out.write(SIGNATURE);
            ByteArrayOutputStream header = new ByteArrayOutputStream();
            DataOutputStream fields = new DataOutputStream(header);
            fields.writeInt(image.getWidth());
            fields.writeInt(image.getHeight());
            fields.write(new byte[] {8, 2, 0, 0, 0});
            chunk(out, "IHDR", header.toByteArray());
            chunk(out, "IDAT", compressed(image));
            chunk(out, "IEND", new byte[0]);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    /**
     * One stream for the decoder (RFC 1950), made of strips that are compressed side by side: a strip ends on a whole byte and
     * refers to nothing before it. The number of strips is fixed, so that the same picture is the same file everywhere.
     */
    private static byte[] compressed(BufferedImage image) throws IOException {
        int height = image.getHeight();
        List<PngStrip> strips = IntStream.range(0, STRIPS)
                .parallel()
                .mapToObj(i -> PngStrip.of(
                        image, height * i / STRIPS, height * (i + 1) / STRIPS, COMPRESSION, i == STRIPS - 1))
                .toList();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 18);
        DataOutputStream out = new DataOutputStream(bytes);
        out.write(FASTEST_WINDOW_32K);
        for (PngStrip strip : strips) {
            out.write(strip.deflated());
        }
        out.writeInt(PngStrip.adler(strips));
        return bytes.toByteArray();
    }

    private static void chunk(DataOutputStream out, String type, byte[] data) throws IOException {
        byte[] name = type.getBytes(StandardCharsets.US_ASCII);
        CRC32 crc = new CRC32();
        crc.update(name);
        crc.update(data);
        out.writeInt(data.length);
        out.write(name);
        out.write(data);
        out.writeInt((int) crc.getValue());
    }
}
