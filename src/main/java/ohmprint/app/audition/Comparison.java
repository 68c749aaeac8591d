package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import ohmprint.signal.SampleSource;
import ohmprint.wav.AudioFiles;
import ohmprint.wav.WavEncoding;
import ohmprint.wav.WavWriter;

/**
 * A short file that plays each of a few passages as it was recorded and then as rendered, both with the same gain, short
 * fades and silence between them.
 *
 * @param take the take
 * @param rendered the result, sample for sample at the same places
 * @param takeGain factor that puts the take beside the result
 * @param seconds length of a passage
 */
record Comparison(Path take, Path rendered, double takeGain, double seconds) {
    private static final double FADE_SECONDS = 0.02;
    private static final double GAP_SECONDS = 0.3;
    private static final double PAUSE_SECONDS = 0.8;
    private static final long SEED = 2;

    /**
     * Writes it.
     *
     * @param out the file
     * @param starts first frames of the passages
     * @param encoding how samples are stored
     */
    void write(Path out, List<Long> starts, WavEncoding encoding) throws IOException {
        int channels;
        double rate;
        long frames;
        try (SampleSource source = AudioFiles.open(take)) {
            channels = source.channels();
            rate = source.sampleRate();
            frames = source.frames();
        }
        int length = (int) Math.min(frames, Math.round(seconds * rate));
        try (WavWriter writer = Wave.create(out, channels, rate, encoding, SEED)) {
            for (int p = 0; p < starts.size(); p++) {
                writer.write(passage(take, starts.get(p), length, takeGain), 0, length);
                silence(writer, channels, GAP_SECONDS * rate);
                writer.write(passage(rendered, starts.get(p), length, 1), 0, length);
                silence(writer, channels, p == starts.size() - 1 ? 0 : PAUSE_SECONDS * rate);
            }
        }
    }

    private static void silence(WavWriter writer, int channels, double frames) throws IOException {
        int count = (int) Math.round(frames);
        writer.write(new double[channels][count], 0, count);
    }

    private static double[][] passage(Path file, long start, int length, double gain) throws IOException {
        try (SampleSource source = AudioFiles.open(file)) {
            source.skip(start);
            double[][] out = new double[source.channels()][length];
            source.read(out, 0, length);
            int fade = (int) Math.min(length / 2.0, FADE_SECONDS * source.sampleRate());
            for (double[] x : out) {
                for (int i = 0; i < length; i++) {
                    int edge = Math.min(i, length - 1 - i);
                    x[i] *= gain * (edge < fade ? Math.pow(Math.sin(Math.PI / 2 * edge / fade), 2) : 1);
                }
            }
            return out;
        }
    }
}
