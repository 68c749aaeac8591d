package ohmprint.app.record;

import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.Microphone;
import ohmprint.session.Assumed;
import org.jspecify.annotations.Nullable;

/**
 * What to record. For a session that exists, everything but the folder may be left out; what was settled when it began
 * cannot be given again.
 *
 * @param folder the session's folder, new or with a manifest
 * @param microphone what is measured; for a new session
 * @param input the recording input; for a new session
 * @param loads loads of the takes; for a new session, or to add to one
 * @param sound what to play; null for {@link Sound#USUAL} in a new session
 * @param bench devices and channels
 * @param expectedOhm impedance that is expected, ohms, or null for the rated one, or that of its transducer
 */
public record RecordRequest(
        Path folder,
        @Nullable Microphone microphone,
        @Nullable Input input,
        @Nullable Loads loads,
        @Nullable Sound sound,
        Bench bench,
        @Nullable Double expectedOhm) {
    /** Goes on with a session. */
    public static RecordRequest of(Path folder) {
        return new RecordRequest(folder, null, null, null, null, Bench.USUAL, null);
    }

    /**
     * The recording input with its cable.
     *
     * @param ohm its resistance in ohms; NaN when it is not known
     * @param tolerancePercent its tolerance in percent
     * @param pf its capacitance in picofarads
     */
    public record Input(double ohm, double tolerancePercent, double pf) {
        /** A resistance in ohms with the usual tolerance, no capacitance. */
        public static Input ofOhms(double ohm) {
            return new Input(ohm, Assumed.INPUT_TOLERANCE_PERCENT, 0);
        }
    }

    /**
     * Loads in the order of the takes.
     *
     * @param ohms resistors in ohms, infinite for none
     * @param tolerancePercent tolerance of all of them in percent
     * @param repeatFirst whether the first comes once more at the end
     */
    public record Loads(List<Double> ohms, double tolerancePercent, boolean repeatFirst) {
        /** Copies the list. */
        public Loads {
            ohms = List.copyOf(ohms);
        }

        /** Resistors of the usual tolerance, the first repeated. */
        public static Loads ofOhms(Double... ohms) {
            return new Loads(List.of(ohms), Assumed.LOAD_TOLERANCE_PERCENT, true);
        }
    }

    /**
     * What to play: a file, or a sound made for the session.
     *
     * @param file a sound file, or null
     * @param noise noise instead of a sweep
     * @param seconds its length
     * @param fromHz lower end of a sweep, hertz
     * @param toHz upper end of a sweep, hertz
     * @param peakDbfs peak level in dBFS
     */
    public record Sound(
            @Nullable Path file, boolean noise, double seconds, double fromHz, double toHz, double peakDbfs) {
        /** A sweep of moderate length over the whole range. */
        public static final Sound USUAL = new Sound(null, false, 8, 20, 20_000, -12);
    }

    /**
     * Devices and channels; what is null is left to the program or to what was settled before.
     *
     * @param inputDevice name of the recording device or a part of it
     * @param outputDevice name of the playing device or a part of it
     * @param rate sample rate in hertz
     * @param channels channels to open
     * @param channel channel of the microphone, from 1
     * @param referenceChannel channel that hears the sound but not the load, from 1
     * @param leadSeconds silence before the sound
     * @param tailSeconds silence after it
     */
    public record Bench(
            @Nullable String inputDevice,
            @Nullable String outputDevice,
            @Nullable Integer rate,
            @Nullable Integer channels,
            @Nullable Integer channel,
            @Nullable Integer referenceChannel,
            @Nullable Double leadSeconds,
            @Nullable Double tailSeconds) {
        /** Everything left open. */
        public static final Bench USUAL = new Bench(null, null, null, null, null, null, null, null);
    }
}
