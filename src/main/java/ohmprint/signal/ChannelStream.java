package ohmprint.signal;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import be.tarsos.dsp.io.TarsosDSPAudioFormat;
import be.tarsos.dsp.io.TarsosDSPAudioInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.jspecify.annotations.Nullable;

/**
 * One channel of a source as the mono stream of 32-bit integers that the block pipeline reads without fault.
 *
 * <p>Samples travel at an eighth of their level, so floating-point takes above full scale pass; {@link #restoringLevel}
 * multiplies by eight again. Both are powers of two: samples of up to 24 bits stay exact.
 */
final class ChannelStream implements TarsosDSPAudioInputStream {
    private static final double DOWN = 0x1p28;
    private static final float UP = 8;
    private static final int BYTES = 4;

    private final SampleSource source;
    private final int channel;
    private final TarsosDSPAudioFormat format;
    private double[][] block = new double[0][];
    private @Nullable IOException failure;

    ChannelStream(SampleSource source, int channel, TarsosDSPAudioFormat format) {
        this.source = source;
        this.channel = channel;
        this.format = format;
    }

    /** The first step of the pipeline. */
    AudioProcessor restoringLevel() {
        return new AudioProcessor() {
            @Override
            public boolean process(AudioEvent event) {
                float[] x = event.getFloatBuffer();
                for (int i = 0; i < x.length; i++) {
                    x[i] *= UP;
                }
                return true;
            }

            @Override
            public void processingFinished() {}
        };
    }

    /** Passes on what the source threw: the pipeline itself ends quietly. */
    void rethrow() throws IOException {
        if (failure != null) {
            throw failure;
        }
    }

    @Override
    public int read(byte[] bytes, int offset, int length) {
        int wanted = length / BYTES;
        if (block.length == 0 || block[0].length < wanted) {
            block = new double[source.channels()][wanted];
        }
        int got;
        try {
            got = source.read(block, 0, wanted);
        } catch (IOException e) {
            failure = e;
            return -1;
        }
        if (got == 0) {
            return -1;
        }
        ByteBuffer out = ByteBuffer.wrap(bytes, offset, length).order(ByteOrder.LITTLE_ENDIAN);
        double[] x = block[channel];
        for (int i = 0; i < got; i++) {
            out.putInt((int) Math.rint(x[i] * DOWN));
        }
        return got * BYTES;
    }

    @Override
    public long skip(long bytes) throws IOException {
        return source.skip(bytes / BYTES) * BYTES;
    }

    @Override
    public void close() {
        block = new double[0][];
    }

    @Override
    public TarsosDSPAudioFormat getFormat() {
        return format;
    }

    @Override
    public long getFrameLength() {
        return source.frames();
    }
}
