package ohmprint.report;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.zip.Adler32;
import java.util.zip.Deflater;

/**
 * Some rows of a picture, compressed (RFC 1951).
 *
 * @param deflated the compressed bytes, up to a whole byte
 * @param adler Adler-32 checksum of the bytes before compression
 * @param length number of these bytes
 */
record PngStrip(byte[] deflated, long adler, long length) {
    /** No rows. */
    static final PngStrip NONE = new PngStrip(new byte[0], 1, 0);

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
        byte[] buffer = new byte[BUFFER];
        ByteArrayOutputStream out = new ByteArrayOutputStream(BUFFER);
        Adler32 adler = new Adler32();
        Deflater deflater = new Deflater(level, true);
        try {
            for (int y = from; y < to; y++) {
                System.arraycopy(plain, 0, row, 0, row.length);
                fill(row, pixels, y * width, above);
                adler.update(row);
                deflater.setInput(row);
                while (!deflater.needsInput()) {
                    out.write(buffer, 0, deflater.deflate(buffer));
                }
            }
            end(deflater, last, buffer, out);
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

    private static void end(Deflater deflater, boolean last, byte[] buffer, ByteArrayOutputStream out) {
        if (last) {
            deflater.finish();
            while (!deflater.finished()) {
                out.write(buffer, 0, deflater.deflate(buffer));
            }
            return;
        }
        int n;
        do {
            n = deflater.deflate(buffer, 0, buffer.length, Deflater.SYNC_FLUSH);
            out.write(buffer, 0, n);
        } while (n == buffer.length);
    }

    /**
     * Both, as far as the checksum goes: with A and B its low and high halves and n the length of the second,
     * {@code A = A₁ + A₂ − 1}, {@code B = B₁ + B₂ + n·(A₁ − 1)}, modulo 65521, by the definition in RFC 1950.
     *
     * @return checksum and length of both; the compressed bytes are not joined
     */
    PngStrip followedBy(PngStrip next) {
        long low = (adler & LOW) + (next.adler & LOW) - 1;
        long high = (adler >> 16) + (next.adler >> 16) + next.length % MODULUS * ((adler & LOW) - 1 + MODULUS);
        return new PngStrip(new byte[0], high % MODULUS << 16 | (low + MODULUS) % MODULUS, length + next.length);
    }
}
