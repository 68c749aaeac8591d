package ohmprint.dsp;

import be.tarsos.dsp.AudioDispatcher;
import be.tarsos.dsp.AudioProcessor;
import be.tarsos.dsp.io.TarsosDSPAudioFloatConverter;
import be.tarsos.dsp.io.TarsosDSPAudioFormat;
import be.tarsos.dsp.io.TarsosDSPAudioInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One channel of samples as TarsosDSP's dispatcher reads them, and the run of the dispatcher over it.
 *
 * <p>The dispatcher takes bytes of one channel and makes floats of them: it converts as many numbers as a block has frames,
 * so of two channels side by side the second half of each block would be lost. The bytes are those of 32-bit floats, which
 * come out as they went in, also above full scale; integers of up to 24 bits are exact in them.
 */
abstract class SampleStream implements TarsosDSPAudioInputStream {
    private static final int BYTES = 4;

    private final TarsosDSPAudioFormat format;
    private final float[] samples;
    private @Nullable IOException failure;

    /**
     * A stream.
     *
     * @param sampleRate in hertz
     * @param block samples that are passed on at a time
     */
    SampleStream(double sampleRate, int block) {
        this.format = format(sampleRate);
        this.samples = new float[block];
    }

    private static TarsosDSPAudioFormat format(double sampleRate) {
        float rate = (float) sampleRate;
        return new TarsosDSPAudioFormat(TarsosDSPAudioFloatConverter.PCM_FLOAT, rate, 8 * BYTES, 1, BYTES, rate, false);
    }

    /**
     * Reads the next samples.
     *
     * @param into receives them from its start
     * @param count most to read, at least 1
     * @return how many there were; 0 at the end
     * @throws IOException if they cannot be read
     */
    abstract int next(float[] into, int count) throws IOException;

    /**
     * Passes all that is left, block by block, through processors, each block through one after the other.
     *
     * @throws IOException if {@link #next} throws it
     */
    final void passThrough(List<AudioProcessor> processors) throws IOException {
        AudioDispatcher dispatcher = new AudioDispatcher(this, samples.length, 0);
        dispatcher.setZeroPadLastBuffer(false);
        processors.forEach(dispatcher::addAudioProcessor);
        dispatcher.run();
        if (failure != null) {
            throw failure;
        }
    }

    /** The dispatcher would turn what cannot be read into an error of the machine, so that is kept and thrown behind it. */
    @Override
    public final int read(byte[] bytes, int offset, int length) {
        int got;
        try {
            got = next(samples, Math.min(samples.length, length / BYTES));
        } catch (IOException e) {
            failure = e;
            return -1;
        }
        if (got == 0) {
            return -1;
        }
        ByteBuffer.wrap(bytes, offset, got * BYTES)
                .order(ByteOrder.LITTLE_ENDIAN)
                .asFloatBuffer()
                .put(samples, 0, got);
        return got * BYTES;
    }

    @Override
    public final long skip(long bytes) {
        throw new UnsupportedOperationException("a stream of samples is read from its start; skip in its source");
    }

    /** Leaves the source open: it belongs to whoever opened it. */
    @Override
    public final void close() {}

    @Override
    public final TarsosDSPAudioFormat getFormat() {
        return format;
    }

    /** Not known, as the interface permits; the dispatcher does not ask. */
    @Override
    public final long getFrameLength() {
        return -1;
    }
}
