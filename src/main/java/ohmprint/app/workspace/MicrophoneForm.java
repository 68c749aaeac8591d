package ohmprint.app.workspace;

import ohmprint.curve.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * The microphone of a session as it is filled in.
 *
 * @param label what the bench calls it
 * @param maker maker, or null
 * @param model model, or null
 * @param serial serial number, or null
 * @param transducer {@code moving-coil}, {@code ribbon}, {@code condenser} or {@code other}, or null
 * @param ratedImpedanceOhm rated impedance in ohms, or null
 * @param minimumLoadOhm smallest load in ohms that the maker allows, or null
 * @param notes free text, or null
 */
public record MicrophoneForm(
        @Nullable String label,
        @Nullable String maker,
        @Nullable String model,
        @Nullable String serial,
        @Nullable String transducer,
        @Nullable Double ratedImpedanceOhm,
        @Nullable Double minimumLoadOhm,
        @Nullable String notes) {
    static MicrophoneForm of(Microphone m) {
        return new MicrophoneForm(
                m.label(),
                m.maker(),
                m.model(),
                m.serial(),
                m.transducer(),
                m.ratedImpedanceOhm(),
                m.ratedMinimumLoadOhm(),
                m.notes());
    }

    /** The microphone; empty texts count as not given. */
    Microphone microphone() {
        String given = text(label);
        return new Microphone(
                given == null ? "" : given,
                text(maker),
                text(model),
                text(serial),
                text(transducer),
                ratedImpedanceOhm,
                minimumLoadOhm,
                text(notes));
    }

    private static @Nullable String text(@Nullable String given) {
        return given == null || given.isBlank() ? null : given.strip();
    }
}
