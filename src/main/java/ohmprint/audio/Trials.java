package ohmprint.audio;

import java.util.Optional;
import javax.sound.sampled.SourceDataLine;
import ohmprint.audio.FormatTrial.Verdict;

/** Opens formats and measures their pace. */
final class Trials {
    /** Blocks of 50 ms after the first: their jitter of a few ms leaves the pace good to about 1 %. */
    private static final int BLOCKS = 10;

    private static final double BUFFER_SECONDS = 0.2;
    /** Below the 8.8 % between 44.1 and 48 kHz, above jitter. */
    private static final double TOLERANCE = 0.04;
    /** A busy computer makes a pace look wrong; a wrong one is wrong each time. */
    private static final int ATTEMPTS = 3;

    private Trials() {}

    static FormatTrial of(String name, Direction direction, int rate, int channels) throws SoundException {
        FormatTrial trial = FormatTrial.refused(rate, channels);
        for (int i = 0; i < ATTEMPTS; i++) {
            try {
                trial = direction == Direction.RECORDING
                        ? recording(name, rate, channels)
                        : playing(name, rate, channels);
            } catch (SoundException e) {
                if (e.reason() == SoundException.Reason.REFUSED) {
                    return FormatTrial.refused(rate, channels);
                }
                throw e;
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return trial;
            }
            if (trial.verdict() != Verdict.WRONG_PACE) {
                return trial;
            }
        }
        return trial;
    }

    private static FormatTrial recording(String name, int rate, int channels)
            throws SoundException, InterruptedException {
        try (Capture capture = Capture.open(name, rate, channels)) {
            capture.start();
            Capture.Block first = capture.next();
            if (first == null) {
                return new FormatTrial(rate, channels, capture.bits(), Double.NaN, Verdict.DEAD);
            }
            long frames = 0;
            long end = first.nanoTime();
            for (int i = 0; i < BLOCKS; i++) {
                Capture.Block block = capture.next();
                if (block == null) {
                    return new FormatTrial(rate, channels, capture.bits(), Double.NaN, Verdict.DEAD);
                }
                frames += block.frames();
                end = block.nanoTime();
            }
            double pace = frames / ((end - first.nanoTime()) * 1e-9);
            Optional<DeviceFormat> own = OwnFormats.of(name, Direction.RECORDING);
            return judged(rate, channels, capture.bits(), pace, own);
        }
    }

    private static FormatTrial playing(String name, int rate, int channels) throws SoundException {
        SourceDataLine line = Lines.playback(name, rate, channels, BUFFER_SECONDS);
        try {
            int bits = line.getFormat().getSampleSizeInBits();
            int frame = line.getFormat().getFrameSize();
            byte[] silence = new byte[frame * (int) (rate * BUFFER_SECONDS / 4)];
            line.start();
            for (int filled = 0; filled < 2 * line.getBufferSize(); filled += silence.length) {
                if (line.write(silence, 0, silence.length) < silence.length) {
                    return new FormatTrial(rate, channels, bits, Double.NaN, Verdict.DEAD);
                }
            }
            long begin = System.nanoTime();
            for (int i = 0; i < BLOCKS; i++) {
                line.write(silence, 0, silence.length);
            }
            double pace = BLOCKS * (silence.length / frame) / ((System.nanoTime() - begin) * 1e-9);
            return judged(rate, channels, bits, pace, OwnFormats.of(name, Direction.PLAYBACK));
        } finally {
            Lines.close(line);
        }
    }

    private static FormatTrial judged(int rate, int channels, int bits, double pace, Optional<DeviceFormat> own) {
        Verdict verdict;
        if (Math.abs(pace / rate - 1) > TOLERANCE) {
            verdict = Verdict.WRONG_PACE;
        } else if (own.isEmpty()) {
            verdict = Verdict.PACE_ONLY;
        } else {
            verdict = own.get().rate() == rate ? Verdict.VERIFIED : Verdict.CONVERTED;
        }
        return new FormatTrial(rate, channels, bits, pace, verdict);
    }
}
