package ohmprint.app.workspace;

import ohmprint.app.BadInputException;
import ohmprint.session.Stimulus;
import ohmprint.session.StimulusKind;
import org.jspecify.annotations.Nullable;

/**
 * What was played, as it is filled in.
 *
 * @param kind {@code sweep} or {@code noise}; null when nothing is stated about the sound
 * @param file the file that was played, or null
 */
public record StimulusForm(@Nullable String kind, @Nullable String file) {
    static StimulusForm of(Stimulus stimulus) {
        return new StimulusForm(stimulus.kind().word(), stimulus.file());
    }

    /** The stimulus, or null when nothing is stated. */
    @Nullable
    Stimulus stimulus() throws BadInputException {
        if (kind == null) {
            if (file == null) {
                return null;
            }
            throw new BadInputException("the sound " + file + " has no kind; say whether it is a sweep or noise");
        }
        for (StimulusKind known : StimulusKind.values()) {
            if (known.word().equals(kind)) {
                return new Stimulus(known, file);
            }
        }
        throw new BadInputException("the sound is '" + kind + "'; say sweep or noise");
    }
}
