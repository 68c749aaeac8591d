package ohmprint.audiodevice;

import java.util.Optional;
import javax.sound.sampled.SourceDataLine;
import ohmprint.audiodevice.FormatTrial.Verdict;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;

/** Opens formats and measures their pace. */
final class FormatProbe {
    /** Short, so that blocks come often and the pace is soon known. */
    private static final double BUFFER_SECONDS = 0.1;

    private static final int BLOCKS_PER_BUFFER = 4;

    /** What has piled up in a server comes at once in the beginning. */
    private static final long SETTLING_NANOS = 200_000_000;

    private FormatProbe() {}

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
            return judged(rate, channels, capture.bits(), pace, NativeFormats.of(name, Direction.RECORDING));
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
            return judged(rate, channels, bits, pace, NativeFormats.of(name, Direction.PLAYBACK));
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

    /**
     * The pace of samples by the computer's clock, from blocks that come in bursts.
     *
     * <p>After t seconds with g seconds as the longest wait between two blocks, the pace is known to about g/t; a wait just
     * before counts too, since what it held up comes at once afterwards. The pace counts as right as soon as that tells it from
     * the nearest other usual rate, 8.8 % away (44.1 and 48 kHz), and as wrong after some windows of two seconds that no wait
     * explains. A busy computer may allow neither; then all windows together decide, after twenty seconds.
     */
    static final class Pace {
        private static final double DECIDED_WITHIN = 0.07;
        private static final double RIGHT_WITHIN = 0.045;
        private static final double UNEXPLAINED = 0.02;
        private static final double LEAST_SECONDS = 0.2;
        private static final double WINDOW_SECONDS = 2;
        private static final int WRONG_WINDOWS = 3;
        private static final int MOST_WINDOWS = 10;

        private final double rate;
        private final long first;
        private int windows;
        private int wrong;
        private long begin;
        private long last;
        private long longest;
        private long longestBefore;
        private long frames;
        private long total;

        /**
         * A pace to be measured.
         *
         * @param rate the rate that it should have, hertz
         * @param nanoTime when the block before the first one that counts had passed
         */
        Pace(double rate, long nanoTime) {
            this.rate = rate;
            this.first = nanoTime;
            this.begin = nanoTime;
            this.last = nanoTime;
        }

        /** A block has passed; returns false when enough have. */
        boolean passed(int count, long nanoTime) {
            frames += count;
            total += count;
            longest = Math.max(longest, nanoTime - last);
            last = nanoTime;
            double seconds = seconds();
            if (seconds < LEAST_SECONDS) {
                return true;
            }
            double known = Math.max(longest, longestBefore) * 1e-9 / seconds;
            if (off() + known < DECIDED_WITHIN) {
                return false;
            }
            if (seconds < WINDOW_SECONDS) {
                return true;
            }
            windows++;
            wrong += off() - known > UNEXPLAINED ? 1 : 0;
            if (wrong == WRONG_WINDOWS) {
                return false;
            }
            if (windows == MOST_WINDOWS) {
                begin = first;
                frames = total;
                return false;
            }
            begin = nanoTime;
            frames = 0;
            longestBefore = longest;
            longest = 0;
            return true;
        }

        private double seconds() {
            return (last - begin) * 1e-9;
        }

        private double off() {
            return Math.abs(perSecond() / rate - 1);
        }

        /** Frames per second. */
        double perSecond() {
            return frames / seconds();
        }

        /** Whether it is that of the rate. */
        boolean right() {
            return off() < RIGHT_WITHIN;
        }
    }
}
