package ohmprint.audio;

/**
 * A device as the system lists it.
 *
 * @param name the system's name, by which it is chosen
 * @param description what the system says about it
 * @param records whether it has inputs
 * @param plays whether it has outputs
 */
public record SoundDevice(String name, String description, boolean records, boolean plays) {
    /** Whether a user's words mean this device: its name or a part of it, upper and lower case alike. */
    public boolean isMeantBy(String words) {
        return name.toLowerCase(java.util.Locale.ROOT).contains(words.toLowerCase(java.util.Locale.ROOT));
    }
}
