package ohmprint.session;

import java.util.Arrays;
import java.util.List;
import ohmprint.manifest.Section;
import org.jspecify.annotations.Nullable;

/**
 * The {@code stimulus} of a manifest.
 *
 * @param section where it stands, for messages
 * @param stimulus what it says
 */
record StimulusSection(Section section, Stimulus stimulus) {
    private static final List<String> KEYS = List.of("kind", "file");
    private static final List<String> KINDS =
            Arrays.stream(StimulusKind.values()).map(StimulusKind::word).toList();

    /** Null when there is none, or something is wrong with it, which goes to the problems. */
    static @Nullable StimulusSection read(Section manifest) {
        Section part = manifest.section("stimulus", KEYS);
        if (part == null) {
            return null;
        }
        part.require("kind", "write one of " + String.join(", ", KINDS));
        String kind = part.word("kind", KINDS);
        String file = part.text("file");
        return Arrays.stream(StimulusKind.values())
                .filter(k -> k.word().equals(kind))
                .findFirst()
                .map(k -> new StimulusSection(part, new Stimulus(k, file)))
                .orElse(null);
    }
}
