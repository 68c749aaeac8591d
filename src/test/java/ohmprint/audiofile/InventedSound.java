package ohmprint.audiofile;

import java.io.IOException;
import ohmprint.dsp.SampleSource;

/** The sound of fixtures/audio/make-audio.py, computed again: 24-bit stereo from integer arithmetic alone. */
final class InventedSound {
    private long x;

    private InventedSound(long seed) {
        x = seed;
    }

    private int next() {
        x = (1103515245L * x + 12345) % (1L << 31);
        return (int) (x >> 7) - (1 << 23);
    }

    /** Integers of 24 bits, one array per channel. */
    static int[][] stereo(long seed, int frames) {
        InventedSound noise = new InventedSound(seed);
        int[][] out = new int[2][frames];
        int low = 0;
        int y1 = 0;
        int y2 = 0;
        for (int i = 0; i < frames; i++) {
            int n = noise.next();
            int m = noise.next();
            low += (n - low) >> 4;
            int y = ((n >> 8) + (int) ((y1 * 509L) >> 8) - y2) - ((y1 - y2) >> 9);
            y2 = y1;
            y1 = Math.max(-(1 << 22), Math.min(1 << 22, y));
            int part = i * 5 / frames;
            int left = part == 4 && i % 97 == 0 ? (1 << 23) - 1 : low;
            out[0][i] = part == 1 ? 0 : part == 2 ? y1 : part == 3 && i % 4 != 0 ? n : left;
            out[1][i] = switch (part) {
                case 0 -> low + (m >> 14);
                case 1 -> -256;
                case 2 -> y1 >> 3;
                case 3 -> m >> 1;
                default -> i % 89 == 0 ? -(1 << 23) : low >> 1;
            };
        }
        return out;
    }

    /** The upper bits of 24-bit integers as samples relative to full scale. */
    static double[][] samples(int[][] sound, int bits) {
        double[][] out = new double[sound.length][sound[0].length];
        int drop = Math.max(0, 24 - bits);
        for (int c = 0; c < sound.length; c++) {
            for (int i = 0; i < sound[c].length; i++) {
                out[c][i] = (sound[c][i] >> drop) / Math.pow(2, 23 - drop);
            }
        }
        return out;
    }

    /** Everything a source holds, read in uneven pieces. */
    static double[][] all(SampleSource source) throws IOException {
        double[][] out = new double[source.channels()][(int) source.frames()];
        int at = 0;
        for (int piece = 1; at < source.frames(); piece = piece * 3 % 1009) {
            int got = source.read(out, at, Math.min(piece, (int) source.frames() - at));
            if (got == 0) {
                throw new IOException("nothing more at frame " + at + " of " + source.frames());
            }
            at += got;
        }
        if (source.read(new double[source.channels()][1], 0, 1) != 0) {
            throw new IOException("more than " + source.frames() + " frames");
        }
        return out;
    }
}
