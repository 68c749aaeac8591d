package ohmprint.chart;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import java.util.zip.Adler32;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;

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
        List<Strip> strips = IntStream.range(0, STRIPS)
                .parallel()
                .mapToObj(i ->
                        Strip.of(image, height * i / STRIPS, height * (i + 1) / STRIPS, COMPRESSION, i == STRIPS - 1))
                .toList();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 18);
        DataOutputStream out = new DataOutputStream(bytes);
        out.write(FASTEST_WINDOW_32K);
        for (Strip strip : strips) {
            out.write(strip.deflated());
        }
        out.writeInt(Strip.adler(strips));
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

    /**
     * Some rows of a picture, compressed (RFC 1951).
     *
     * @param deflated the compressed bytes, up to a whole byte
     * @param adler Adler-32 checksum of the bytes before compression
     * @param length number of these bytes
     */
    private record Strip(byte[] deflated, long adler, long length) {
        private static final int MODULUS = 65521;
        private static final int LOW = 0xFFFF;
        private static final int BUFFER = 1 << 16;

        /**
         * Compresses rows as differences from the row above (filter type 2), which plain areas turn into zeros.
         *
         * @param image picture of type INT_RGB
         * @param from first row
         * @param to row behind the last
         * @param level level of compression
         * @param last whether the stream ends here
         */
        static Strip of(BufferedImage image, int from, int to, int level, boolean last) {
            int[] pixels = ((DataBufferInt) image.getRaster().getDataBuffer()).getData();
            int width = image.getWidth();
            byte[] row = new byte[1 + 3 * width];
            byte[] plain = row.clone();
            int[] above = new int[width];
            if (from > 0) {
                System.arraycopy(pixels, (from - 1) * width, above, 0, width);
            }
            ByteArrayOutputStream out = new ByteArrayOutputStream(BUFFER);
            Adler32 adler = new Adler32();
            Deflater deflater = new Deflater(level, true);
            try {
                DeflaterOutputStream into = new DeflaterOutputStream(out, deflater, BUFFER, true);
                for (int y = from; y < to; y++) {
                    System.arraycopy(plain, 0, row, 0, row.length);
                    fill(row, pixels, y * width, above);
                    adler.update(row);
                    into.write(row);
                }
                if (last) {
                    into.finish();
                } else {
                    into.flush();
                }
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            } finally {
                deflater.end();
            }
            return new Strip(out.toByteArray(), adler.getValue(), (long) (to - from) * row.length);
        }

        /** Fills a row of zeros with what differs from the pixels above, which are then those of the row. */
        private static void fill(byte[] row, int[] pixels, int from, int[] above) {
            int width = above.length;
            row[0] = 2;
            // Only pixels unlike those above are looked at one by one: they are few.
            for (int x = 0, step; (step = Arrays.mismatch(above, x, width, pixels, from + x, from + width)) >= 0; ) {
                x += step;
                int now = pixels[from + x];
                row[1 + 3 * x] = (byte) ((now >> 16) - (above[x] >> 16));
                row[2 + 3 * x] = (byte) ((now >> 8) - (above[x] >> 8));
                row[3 + 3 * x] = (byte) (now - above[x]);
                x++;
            }
            System.arraycopy(pixels, from, above, 0, width);
        }

        /**
         * Checksum of strips in a row: with A and B the low and high halves of one, {@code A = A₁ + A₂ − 1} and
         * {@code B = B₁ + B₂ + n₂·(A₁ − 1)} for two of them, n₂ the length of the second, modulo 65521, by the definition in RFC
         * 1950.
         */
        static int adler(List<Strip> strips) {
            long a = 1;
            long b = 0;
            for (Strip strip : strips) {
                b = (b + (strip.adler >> 16) + strip.length % MODULUS * (a - 1 + MODULUS)) % MODULUS;
                a = (a + (strip.adler & LOW) - 1 + MODULUS) % MODULUS;
            }
            return (int) (b << 16 | a);
        }
    }
}
