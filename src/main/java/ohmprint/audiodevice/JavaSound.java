package ohmprint.audiodevice;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** The sound system of this computer, through the sound lines of Java. Runs go one at a time. */
public final class JavaSound implements SoundSystem {
    /** Recording that is thrown away while a device settles. */
    private static final double SETTLING_SECONDS = 0.1;
    /** What the way through the devices may take beyond the buffers. */
    private static final double EXTRA_SECONDS = 0.25;

    @Override
    public List<SoundDevice> devices() throws SoundException {
        return Lines.devices();
    }

    @Override
    public Optional<DeviceFormat> ownFormat(@Nullable String device, Direction direction) throws SoundException {
        return NativeFormats.of(Lines.find(device, direction).getName(), direction);
    }

    @Override
    public FormatTrial trial(@Nullable String device, Direction direction, int rate, int channels)
            throws SoundException {
        return FormatProbe.of(Lines.find(device, direction).getName(), direction, rate, channels);
    }

    @Override
    public synchronized RunReport run(SoundRun run, CaptureSink sink) throws SoundException, IOException {
        try (Capture capture = Capture.open(run.input(), run.rate(), run.channels(), Capture.BUFFER_SECONDS);
                Playback playback = Playback.open(run.output(), run.rate())) {
            return running(run, capture, playback, sink);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new SoundException(SoundException.Reason.LOST, "the recording was interrupted; record it again", e);
        }
    }

    private static RunReport running(SoundRun run, Capture capture, Playback playback, CaptureSink sink)
            throws InterruptedException, SoundException, IOException {
        double[] sound = run.sound();
        double rate = run.rate();
        long settling = Math.round(SETTLING_SECONDS * rate);
        long lead = settling + Math.round(run.leadSeconds() * rate);
        long last = lead
                + sound.length
                + Math.round((run.tailSeconds() + playback.bufferSeconds() + capture.bufferSeconds() + EXTRA_SECONDS)
                        * rate);
        double[][] samples = new double[run.channels()][capture.mostFrames()];
        GapDetector clock = new GapDetector(rate);
        boolean playing = false;
        long at = 0;
        capture.start();
        while (at < last) {
            Capture.Block block = capture.next();
            if (block == null) {
                throw lost(run.input(), "recording", at / rate);
            }
            if (playback.lost()) {
                throw lost(run.output(), "playing", at / rate);
            }
            clock.arrived(block.frames(), block.nanoTime());
            capture.pcm().decode(block.bytes(), block.frames(), samples);
            int skipped = (int) Math.max(0, Math.min(block.frames(), settling - at));
            if (!pass(samples, skipped, block.frames(), sink)) {
                break;
            }
            at += block.frames();
            if (!playing && at >= lead) {
                playback.start(sound);
                playing = true;
            }
        }
        return new RunReport(Math.max(0, at - settling), capture.bits(), playback.ranEmpty(), clock.lostSeconds());
    }

    private static boolean pass(double[][] samples, int from, int to, CaptureSink sink) throws IOException {
        if (from >= to) {
            return true;
        }
        if (from > 0) {
            for (double[] channel : samples) {
                System.arraycopy(channel, from, channel, 0, to - from);
            }
        }
        return sink.take(samples, to - from);
    }

    private static SoundException lost(@Nullable String device, String what, double seconds) {
        return new SoundException(
                SoundException.Reason.LOST,
                String.format(
                        java.util.Locale.ROOT,
                        "%s stopped %s after %.1f s: it was unplugged or its sound server ended; connect it again",
                        device == null ? "the sound device" : device,
                        what,
                        seconds));
    }

    /**
     * Whether frames may have gone missing, from when blocks arrived. A suspicion: if a computer gets busy in the last quarter
     * of a run, all of its blocks come late.
     *
     * <p>A block that completes N frames cannot arrive before {@code t₀ + N/rate}, and some block in every quarter of a run
     * arrives hardly later. If the least lateness of the last quarter exceeds that of the first, frames may be missing between.
     */
    static final class GapDetector {
        private static final double LEAST_SECONDS = 0.03;
        private static final int FEWEST_BLOCKS = 8;

        private final double rate;
        private final List<Double> lateness = new ArrayList<>();
        private long frames;

        GapDetector(double rate) {
            this.rate = rate;
        }

        /** A block has arrived. */
        void arrived(int count, long nanoTime) {
            frames += count;
            lateness.add(nanoTime * 1e-9 - frames / rate);
        }

        /** Seconds that may be missing; 0 when less than can be told. */
        double lostSeconds() {
            int n = lateness.size();
            if (n < FEWEST_BLOCKS) {
                return 0;
            }
            double lost = least(n - n / 4, n) - least(0, n / 4);
            return lost > LEAST_SECONDS ? lost : 0;
        }

        private double least(int from, int to) {
            return lateness.subList(from, to).stream()
                    .mapToDouble(Double::doubleValue)
                    .min()
                    .orElseThrow();
        }
    }
}
