package ohmprint.audiodevice;

import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import javax.sound.sampled.TargetDataLine;
import org.jspecify.annotations.Nullable;

/**
 * A recording line read by a thread of its own, so that slow work between two blocks loses nothing and a line that blocks
 * or falls silent for ever is noticed.
 */
final class Capture implements AutoCloseable {
    /** Usual length of the line's buffer. */
    static final double BUFFER_SECONDS = 0.4;

    private static final int BLOCKS_PER_BUFFER = 8;
    /** What a device may take to come up. */
    private static final long FIRST_MILLIS = 3000;
    /** Longest wait for a line that does not answer at all: a busy computer may hold it up that long. */
    private static final long NEXT_MILLIS = 3000;
    /** How long a line may answer that there is nothing: what is gone answers so for ever. */
    private static final long EMPTY_MILLIS = 400;

    private static final Block END = new Block(new byte[0], 0, 0);

    private final TargetDataLine line;
    private final Lines.PcmFrames pcm;
    private final BlockingQueue<Block> blocks = new LinkedBlockingQueue<>();
    private final Thread reader;
    private final int mostFrames;
    private volatile boolean ended;
    private boolean begun;

    /**
     * What one read brought.
     *
     * @param bytes the frames
     * @param frames how many
     * @param nanoTime when they had arrived
     */
    record Block(byte[] bytes, int frames, long nanoTime) {}

    private Capture(TargetDataLine line, double seconds) {
        this.line = line;
        this.pcm = new Lines.PcmFrames(line.getFormat().getChannels(), bits());
        this.mostFrames = Math.max(1, (int) (seconds * line.getFormat().getSampleRate() / BLOCKS_PER_BUFFER));
        this.reader = new Thread(this::readOn, "recording");
        reader.setDaemon(true);
    }

    /** Opens a line; {@link #start} sets it running. */
    static Capture open(@Nullable String device, int rate, int channels, double bufferSeconds) throws SoundException {
        return new Capture(Lines.capture(device, rate, channels, bufferSeconds), bufferSeconds);
    }

    int bits() {
        return line.getFormat().getSampleSizeInBits();
    }

    Lines.PcmFrames pcm() {
        return pcm;
    }

    /** Length of the longest block in frames. */
    int mostFrames() {
        return mostFrames;
    }

    /** Longest delay from the device to the program, seconds. */
    double bufferSeconds() {
        return Lines.bufferSeconds(line);
    }

    void start() {
        line.start();
        reader.start();
    }

    private void readOn() {
        int size = mostFrames() * pcm.frameBytes();
        long emptySince = 0;
        while (!ended) {
            byte[] bytes = new byte[size];
            int got = line.read(bytes, 0, size);
            long now = System.nanoTime();
            if (got > 0) {
                emptySince = 0;
                blocks.add(new Block(bytes, got / pcm.frameBytes(), now));
            } else if (emptySince == 0) {
                emptySince = now;
            } else if (begun() && now - emptySince > EMPTY_MILLIS * 1_000_000) {
                break;
            } else {
                pause();
            }
        }
        blocks.add(END);
    }

    private synchronized boolean begun() {
        return begun;
    }

    private static void pause() {
        try {
            Thread.sleep(5);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /**
     * The next block; null when the device is lost.
     *
     * @throws InterruptedException if the waiting thread is interrupted
     */
    @Nullable
    Block next() throws InterruptedException {
        Block block = blocks.poll(begun() ? NEXT_MILLIS : FIRST_MILLIS, TimeUnit.MILLISECONDS);
        if (block == null || block.frames() == 0) {
            return null;
        }
        synchronized (this) {
            begun = true;
        }
        return block;
    }

    @Override
    public void close() {
        ended = true;
        Lines.close(line);
    }
}
