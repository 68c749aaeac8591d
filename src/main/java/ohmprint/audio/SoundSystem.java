package ohmprint.audio;

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
}
