package ohmprint.session;

import java.util.List;
import ohmprint.curve.Microphone;
import ohmprint.manifest.Section;
import org.jspecify.annotations.Nullable;

/** The {@code microphone} of a manifest. */
final class MicrophoneSection {
    private static final List<String> KEYS = List.of(
            "label",
            "maker",
            "model",
            "serial",
            "transducer",
            "rated_impedance_ohm",
            "rated_minimum_load_ohm",
            "notes");
    private static final List<String> TRANSDUCERS = List.of("moving-coil", "ribbon", "condenser", "other");

    private MicrophoneSection() {}

    static @Nullable Microphone read(Section manifest) {
        if (!manifest.require("microphone", "add it with at least a label, such as microphone: {label: Bench 7}")) {
            return null;
        }
        Section part = manifest.section("microphone", KEYS);
        if (part == null) {
            return null;
        }
        part.require("label", "give what the bench calls this microphone");
        String label = part.text("label");
        Microphone microphone = new Microphone(
                label == null ? "" : label,
                part.text("maker"),
                part.text("model"),
                part.text("serial"),
                part.word("transducer", TRANSDUCERS),
                part.positive("rated_impedance_ohm", "Ω", ""),
                part.positive("rated_minimum_load_ohm", "Ω", ""),
                part.text("notes"));
        return label == null ? null : microphone;
    }
}
