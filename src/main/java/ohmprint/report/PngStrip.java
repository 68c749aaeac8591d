package ohmprint.report;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.List;
import java.util.zip.Adler32;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;

/**
 * Some rows of a picture, compressed (RFC 1951).
 *
 * @param deflated the compressed bytes, up to a whole byte
 * @param adler Adler-32 checksum of the bytes before compression
 * @param length number of these bytes
 */
record PngStrip(byte[] deflated, long adler, long length) {
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
    static PngStrip of(BufferedImage image, int from, int to, int level, boolean last) {
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
        return new PngStrip(out.toByteArray(), adler.getValue(), (long) (to - from) * row.length);
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
    static int adler(List<PngStrip> strips) {
        long a = 1;
        long b = 0;
        for (PngStrip strip : strips) {
            b = (b + (strip.adler >> 16) + strip.length % MODULUS * (a - 1 + MODULUS)) % MODULUS;
            a = (a + (strip.adler & LOW) - 1 + MODULUS) % MODULUS;
        }
        return (int) (b << 16 | a);
    }
}
