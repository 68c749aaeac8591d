package ohmprint.audio;

import java.util.Optional;
import javax.sound.sampled.SourceDataLine;
import ohmprint.audio.FormatTrial.Verdict;

/** Opens formats and measures their pace. */
final class Trials {
    /** Short, so that blocks come often and the pace is soon known. */
    private static final double BUFFER_SECONDS = 0.1;

    private static final int BLOCKS_PER_BUFFER = 4;

    /** What has piled up in a server comes at once in the beginning. */
    private static final long SETTLING_NANOS = 200_000_000;

    private Trials() {}

    static FormatTrial of(String name, Direction direction, int rate, int channels) throws SoundException {
        try {
            return direction == Direction.RECORDING ? recording(name, rate, channels) : playing(name, rate, channels);
        } catch (SoundException e) {
            if (e.reason() == SoundException.Reason.REFUSED) {
                return FormatTrial.refused(rate, channels);
            }
            throw e;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return FormatTrial.refused(rate, channels);
        }
    }

    private static FormatTrial recording(String name, int rate, int channels)
            throws SoundException, InterruptedException {
        try (Capture capture = Capture.open(name, rate, channels, BUFFER_SECONDS)) {
            capture.start();
            Capture.Block block = capture.next();
            if (block == null) {
                return dead(rate, channels, capture.bits());
            }
            long piled = System.nanoTime() + SETTLING_NANOS;
            while (block != null && block.nanoTime() < piled) {
                block = capture.next();
            }
            if (block == null) {
                return dead(rate, channels, capture.bits());
            }
            Pace pace = new Pace(rate, block.nanoTime());
            do {
                block = capture.next();
                if (block == null) {
                    return dead(rate, channels, capture.bits());
                }
            } while (pace.passed(block.frames(), block.nanoTime()));
            return judged(rate, channels, capture.bits(), pace, OwnFormats.of(name, Direction.RECORDING));
        }
    }

    private static FormatTrial playing(String name, int rate, int channels) throws SoundException {
        SourceDataLine line = Lines.playback(name, rate, channels, BUFFER_SECONDS);
        try {
            int bits = line.getFormat().getSampleSizeInBits();
            int frame = line.getFormat().getFrameSize();
            int frames = (int) (rate * BUFFER_SECONDS / BLOCKS_PER_BUFFER);
            byte[] silence = new byte[frame * frames];
            line.start();
            long settled = System.nanoTime() + SETTLING_NANOS;
            while (System.nanoTime() < settled) {
                if (line.write(silence, 0, silence.length) < silence.length) {
                    return dead(rate, channels, bits);
                }
            }
            Pace pace = new Pace(rate, System.nanoTime());
            do {
                if (line.write(silence, 0, silence.length) < silence.length) {
                    return dead(rate, channels, bits);
                }
            } while (pace.passed(frames, System.nanoTime()));
            return judged(rate, channels, bits, pace, OwnFormats.of(name, Direction.PLAYBACK));
        } finally {
            Lines.close(line);
        }
    }

    private static FormatTrial dead(int rate, int channels, int bits) {
        return new FormatTrial(rate, channels, bits, Double.NaN, null, Verdict.DEAD);
    }

    private static FormatTrial judged(int rate, int channels, int bits, Pace pace, Optional<DeviceFormat> own) {
        Verdict verdict = own.map(f -> f.rate() == rate ? Verdict.VERIFIED : Verdict.CONVERTED)
                .orElse(Verdict.PACE_ONLY);
        return new FormatTrial(
                rate, channels, bits, pace.perSecond(), own.orElse(null), pace.right() ? verdict : Verdict.WRONG_PACE);
    }
}
