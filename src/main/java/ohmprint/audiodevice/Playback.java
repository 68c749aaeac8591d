package ohmprint.audiodevice;

import javax.sound.sampled.SourceDataLine;
import org.jspecify.annotations.Nullable;

/** A playing line fed by a thread of its own: the sound, then silence until it is closed. */
final class Playback implements AutoCloseable {
    private static final double BUFFER_SECONDS = 0.8;
    private static final double BLOCK_SECONDS = 0.05;
    private static final int CHANNELS = 2;

    private final SourceDataLine line;
    private final Lines.PcmFrames pcm;
    private final int blockFrames;
    private volatile boolean ended;
    private volatile boolean lost;
    private volatile boolean ranEmpty;

    private Playback(SourceDataLine line) {
        this.line = line;
        this.pcm = new Lines.PcmFrames(
                line.getFormat().getChannels(), line.getFormat().getSampleSizeInBits());
        this.blockFrames = Math.max(1, (int) (BLOCK_SECONDS * line.getFormat().getSampleRate()));
    }

    /** Opens a line of two channels, or of one where the device has no more. */
    static Playback open(@Nullable String device, int rate) throws SoundException {
        try {
            return new Playback(Lines.playback(device, rate, CHANNELS, BUFFER_SECONDS));
        } catch (SoundException e) {
            if (e.reason() != SoundException.Reason.REFUSED) {
                throw e;
            }
            return new Playback(Lines.playback(device, rate, 1, BUFFER_SECONDS));
        }
    }

    /** Longest delay from the program to the device, seconds. */
    double bufferSeconds() {
        return Lines.bufferSeconds(line);
    }

    /** Begins to play. */
    void start(double[] sound) {
        Thread writer = new Thread(() -> write(sound), "playing");
        writer.setDaemon(true);
        writer.start();
    }

    private void write(double[] sound) {
        byte[] bytes = new byte[blockFrames * pcm.frameBytes()];
        double[] silence = new double[blockFrames];
        boolean running = false;
        int at = 0;
        while (!ended) {
            boolean sounding = at < sound.length;
            int frames = sounding ? Math.min(blockFrames, sound.length - at) : blockFrames;
            int size = frames * pcm.frameBytes();
            pcm.encode(sounding ? sound : silence, sounding ? at : 0, frames, bytes);
            if (running && sounding && line.available() >= line.getBufferSize()) {
                ranEmpty = true;
            }
            if (!running && line.available() < size) {
                line.start();
                running = true;
            }
            if (line.write(bytes, 0, size) < size && !ended) {
                lost = true;
                return;
            }
            at = Math.min(sound.length, at + frames);
        }
    }

    boolean lost() {
        return lost;
    }

    boolean ranEmpty() {
        return ranEmpty;
    }

    @Override
    public void close() {
        ended = true;
        Lines.close(line);
    }
}
