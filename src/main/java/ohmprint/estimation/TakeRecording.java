package ohmprint.estimation;

import java.io.Closeable;
import java.io.IOException;
import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import ohmprint.dsp.SampleSource;

/**
 * A take as the observers read it: samples that can be opened anew, and its noise.
 *
 * @param opener opens the recording at its start
 * @param channel channel of the microphone, from 0
 * @param referenceChannel channel of the reference, from 0; −1 for none
 * @param soundStart first frame of the sound, at or before its onset
 * @param soundEnd frame after the sound and its decay
 * @param noise one-sided noise density of the microphone's channel against frequency in hertz, full scale²/Hz
 * @param referenceNoise the same of the reference's channel, by its own lead-in
 */
public record TakeRecording(
        Opener opener,
        int channel,
        int referenceChannel,
        long soundStart,
        long soundEnd,
        DoubleUnaryOperator noise,
        DoubleUnaryOperator referenceNoise) {
    /** The same take read through its reference channel, whose noise counts then. */
    public TakeRecording throughReference() {
        return new TakeRecording(opener, referenceChannel, -1, soundStart, soundEnd, referenceNoise, referenceNoise);
    }

    /** The same take with this noise density, averaged over a number of periods. */
    TakeRecording withNoise(DoubleUnaryOperator density, int periods) {
        return new TakeRecording(
                opener,
                channel,
                referenceChannel,
                soundStart,
                soundEnd,
                hz -> density.applyAsDouble(hz) / periods,
                referenceNoise);
    }

    /** Opens a recording at its start. */
    @FunctionalInterface
    public interface Opener {
        /**
         * Opens the recording.
         *
         * @throws IOException if it cannot be read
         */
        SampleSource open() throws IOException;
    }

    /** Reads a stretch of one channel in steps; after its end come zeros. */
    static final class AlignedReader implements Closeable {
        private final SampleSource source;
        private final int channel;
        private double[][] frames = new double[0][0];
        private long left;

        AlignedReader(SampleSource source, int channel) {
            this.source = source;
            this.channel = channel;
            this.left = source.frames();
        }

        long frames() {
            return source.frames();
        }

        double sampleRate() {
            return source.sampleRate();
        }

        /** Restricts reading to {@code length} frames from frame {@code from}. */
        void limitTo(long from, long length) throws IOException {
            source.skip(from);
            left = length;
        }

        /** Fills {@code count} samples from {@code offset}. */
        void read(double[] into, int offset, int count) throws IOException {
            if (frames.length == 0 || frames[0].length < count) {
                frames = new double[source.channels()][count];
            }
            int done = 0;
            while (done < count && left > 0) {
                int got = source.read(frames, 0, (int) Math.min(count - done, left));
                if (got == 0) {
                    left = 0;
                }
                System.arraycopy(frames[channel], 0, into, offset + done, got);
                done += got;
                left -= got;
            }
            Arrays.fill(into, offset + done, offset + count, 0);
        }

        @Override
        public void close() throws IOException {
            source.close();
        }
    }
}
