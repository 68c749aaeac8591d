package ohmprint.audiodevice;

import java.util.ArrayList;
import java.util.List;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.DataLine;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.Mixer;
import javax.sound.sampled.SourceDataLine;
import javax.sound.sampled.TargetDataLine;
import ohmprint.audiodevice.SoundSystem.Direction;
import ohmprint.audiodevice.SoundSystem.SoundDevice;
import org.jspecify.annotations.Nullable;

/** Lists mixers and opens lines. */
final class Lines {
    private static final int[] BITS = {24, 32, 16};

    private Lines() {}

    static final String WAY_OUT = "record the takes with any recorder instead, then write session.yaml and use measure";

    /** All mixers with lines of either direction. */
    static List<SoundDevice> devices() throws SoundException {
        List<SoundDevice> out = new ArrayList<>();
        for (Mixer.Info info : AudioSystem.getMixerInfo()) {
            boolean records = has(info, Direction.RECORDING);
            boolean plays = has(info, Direction.PLAYBACK);
            if (records || plays) {
                out.add(new SoundDevice(info.getName(), info.getDescription(), records, plays));
            }
        }
        if (out.isEmpty()) {
            throw new SoundException(
                    SoundException.Reason.NO_SOUND_SYSTEM,
                    "this computer shows no sound device; plug the interface in, start the sound server, or "
                            + WAY_OUT);
        }
        return out;
    }

    /** The mixer that is meant: the first whose name holds the words; without words the first with such lines. */
    static Mixer.Info find(@Nullable String words, Direction direction) throws SoundException {
        List<SoundDevice> all = devices();
        for (Mixer.Info info : AudioSystem.getMixerInfo()) {
            if (has(info, direction)
                    && (words == null
                            || new SoundDevice(info.getName(), info.getDescription(), true, true).isMeantBy(words))) {
                return info;
            }
        }
        List<String> names = all.stream()
                .filter(d -> direction == Direction.RECORDING ? d.records() : d.plays())
                .map(SoundDevice::name)
                .toList();
        String what = direction == Direction.RECORDING ? "records" : "plays";
        if (names.isEmpty()) {
            throw new SoundException(
                    SoundException.Reason.NO_SOUND_SYSTEM,
                    "no sound device here " + what + "; plug the interface in, or " + WAY_OUT);
        }
        throw new SoundException(
                SoundException.Reason.UNKNOWN_DEVICE,
                "no sound device that " + what + " is called " + words + "; there is " + String.join(", ", names));
    }

    private static boolean has(Mixer.Info info, Direction direction) {
        Mixer mixer = AudioSystem.getMixer(info);
        Class<?> kind = kind(direction);
        for (var line : direction == Direction.RECORDING ? mixer.getTargetLineInfo() : mixer.getSourceLineInfo()) {
            if (line.getLineClass() == kind) {
                return true;
            }
        }
        return false;
    }

    private static Class<?> kind(Direction direction) {
        return direction == Direction.RECORDING ? TargetDataLine.class : SourceDataLine.class;
    }

    /** Opens a recording line with the most exact samples that it has. */
    static TargetDataLine capture(@Nullable String device, int rate, int channels, double bufferSeconds)
            throws SoundException {
        Mixer.Info info = find(device, Direction.RECORDING);
        return (TargetDataLine) open(info, Direction.RECORDING, rate, channels, bufferSeconds);
    }

    /** Opens a playing line likewise. */
    static SourceDataLine playback(@Nullable String device, int rate, int channels, double bufferSeconds)
            throws SoundException {
        Mixer.Info info = find(device, Direction.PLAYBACK);
        return (SourceDataLine) open(info, Direction.PLAYBACK, rate, channels, bufferSeconds);
    }

    private static DataLine open(Mixer.Info info, Direction direction, int rate, int channels, double bufferSeconds)
            throws SoundException {
        String why = "";
        for (int bits : BITS) {
            AudioFormat format = new AudioFormat(rate, bits, channels, true, false);
            int bytes = format.getFrameSize() * (int) (bufferSeconds * rate);
            try {
                DataLine line = (DataLine)
                        AudioSystem.getMixer(info).getLine(new DataLine.Info(kind(direction), format, bytes));
                if (line instanceof TargetDataLine in) {
                    in.open(format, bytes);
                } else if (line instanceof SourceDataLine out) {
                    out.open(format, bytes);
                }
                return line;
            } catch (LineUnavailableException | IllegalArgumentException | IllegalStateException e) {
                why = e.getMessage() == null ? "" : " (" + e.getMessage() + ")";
            }
        }
        throw new SoundException(
                SoundException.Reason.REFUSED,
                info.getName() + " does not open for "
                        + (direction == Direction.RECORDING ? "recording " : "playing ") + channels
                        + (channels == 1 ? " channel at " : " channels at ") + rate
                        + " Hz" + why
                        + "; close other programs that use it, or choose another rate or number of channels (devices"
                        + " lists what it does)");
    }

    /** Length of a line's buffer in seconds: the longest delay between program and device. */
    static double bufferSeconds(DataLine line) {
        return line.getBufferSize()
                / ((double) line.getFormat().getFrameSize() * line.getFormat().getSampleRate());
    }

    /** Closes a line without waiting for it longer than a moment: the line of a dead server may never close. */
    static void close(DataLine line) {
        Thread closing = new Thread(
                () -> {
                    line.stop();
                    line.flush();
                    line.close();
                },
                "closing sound line");
        closing.setDaemon(true);
        closing.start();
        try {
            closing.join(500);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Signed little-endian integers as a line carries them, to and from samples relative to full scale. */
    static final class PcmFrames {
        private final int channels;
        private final int bytes;
        private final double steps;

        /**
         * Frames of a line.
         *
         * @param channels samples per frame
         * @param bits 16, 24 or 32
         */
        PcmFrames(int channels, int bits) {
            this.channels = channels;
            this.bytes = bits / 8;
            this.steps = Math.scalb(1.0, bits - 1);
        }

        /** Bytes of a frame. */
        int frameBytes() {
            return channels * bytes;
        }

        /** Reads frames: {@code v / 2^(n−1)}, exactly. */
        void decode(byte[] from, int frames, double[][] into) {
            int at = 0;
            for (int i = 0; i < frames; i++) {
                for (int c = 0; c < channels; c++) {
                    int value = from[at + bytes - 1];
                    for (int b = bytes - 2; b >= 0; b--) {
                        value = (value << 8) | (from[at + b] & 0xFF);
                    }
                    into[c][i] = value / steps;
                    at += bytes;
                }
            }
        }

        /** Writes one sample to all channels of a frame each; rounded to the nearest step, limited to full scale. */
        void encode(double[] samples, int from, int frames, byte[] into) {
            int at = 0;
            for (int i = 0; i < frames; i++) {
                double scaled = Math.rint(samples[from + i] * steps);
                int value = (int) Math.max(-steps, Math.min(steps - 1, scaled));
                for (int c = 0; c < channels; c++) {
                    for (int b = 0; b < bytes; b++) {
                        into[at++] = (byte) (value >> (8 * b));
                    }
                }
            }
        }
    }
}
