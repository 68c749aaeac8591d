package ohmprint.audiodevice;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** Sound devices and what can be done with them. */
public interface SoundSystem {
    /**
     * All devices that record or play.
     *
     * @throws SoundException if there is none
     */
    List<SoundDevice> devices() throws SoundException;

    /**
     * The format that a device itself runs with, where the system tells.
     *
     * @param device a device's name or a part of it, or null for the usual one
     * @throws SoundException if there is no such device
     */
    Optional<DeviceFormat> ownFormat(@Nullable String device, Direction direction) throws SoundException;

    /**
     * Opens a device, lets it run for a moment in silence, and tells what came of it.
     *
     * @param device a device's name or a part of it, or null for the usual one
     * @param rate sample rate in hertz
     * @param channels channels
     * @throws SoundException if there is no such device
     */
    FormatTrial trial(@Nullable String device, Direction direction, int rate, int channels) throws SoundException;

    /**
     * Plays a sound and records meanwhile; returns when the tail is recorded or the sink has enough.
     *
     * @throws SoundException if a device is not there, does not open, or is lost on the way; what the sink has taken
     *     until then is good
     * @throws IOException if the sink throws it
     */
    RunReport run(SoundRun run, CaptureSink sink) throws SoundException, IOException;

    /**
     * A device as the system lists it.
     *
     * @param name the system's name, by which it is chosen
     * @param description what the system says about it
     * @param records whether it has inputs
     * @param plays whether it has outputs
     */
    record SoundDevice(String name, String description, boolean records, boolean plays) {
        /** Whether a user's words mean this device: its name or a part of it, upper and lower case alike. */
        public boolean isMeantBy(String words) {
            return name.toLowerCase(java.util.Locale.ROOT).contains(words.toLowerCase(java.util.Locale.ROOT));
        }
    }

    /**
     * The format that a device itself runs with, behind whatever converts.
     *
     * @param device what the system calls the device behind the line, such as the source of a sound server
     * @param rate its sample rate in hertz
     * @param channels its channels
     */
    record DeviceFormat(String device, int rate, int channels) {}

    /** Which way sound goes. */
    enum Direction {
        /** From the device to the program. */
        RECORDING,
        /** From the program to the device. */
        PLAYBACK
    }

    /** Takes what is recorded, block by block, while the sound runs. */
    @FunctionalInterface
    interface CaptureSink {
        /**
         * Takes the next frames.
         *
         * @param samples one array per channel, relative to full scale; only valid during the call
         * @param frames how many of each are filled
         * @return false to end the run here
         * @throws IOException if they cannot be kept; ends the run
         */
        boolean take(double[][] samples, int frames) throws IOException;
    }
}
