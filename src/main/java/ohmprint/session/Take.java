package ohmprint.session;

import java.time.OffsetDateTime;
import ohmprint.circuit.Load;
import org.jspecify.annotations.Nullable;

/**
 * One recording with one load.
 *
 * @param file audio file, relative to the session's folder
 * @param load the resistor across the microphone, or none
 * @param channel channel of the microphone, from 1
 * @param referenceChannel channel, from 1, that hears the source but not the load; null when there is none
 * @param note free text, or null
 * @param time when it was recorded, or null
 */
public record Take(
        String file,
        Load load,
        int channel,
        @Nullable Integer referenceChannel,
        @Nullable String note,
        @Nullable OffsetDateTime time) {
    /** A take on channel 1 of its file, without reference channel, note and time. */
    public Take(String file, Load load) {
        this(file, load, 1, null, null, null);
    }

    /** The same on these channels of its file, from 1; the reference channel is null when there is none. */
    public Take onChannels(int channel, @Nullable Integer referenceChannel) {
        return new Take(file, load, channel, referenceChannel, note, time);
    }

    /** The same with a note, or null for none. */
    public Take withNote(@Nullable String note) {
        return new Take(file, load, channel, referenceChannel, note, time);
    }

    /** The same recorded at a time, or null where it is not known. */
    public Take at(@Nullable OffsetDateTime time) {
        return new Take(file, load, channel, referenceChannel, note, time);
    }
}
