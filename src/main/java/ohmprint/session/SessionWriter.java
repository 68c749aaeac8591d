package ohmprint.session;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import ohmprint.circuit.AddedInput.PhantomFedInput;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.MeasuredInput;
import ohmprint.circuit.StatedInput;
import ohmprint.circuit.UnknownInput;
import ohmprint.files.AtomicFile;
import ohmprint.impedance.Microphone;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import org.jspecify.annotations.Nullable;

/** Writes the manifest of a session, such that {@link SessionReader} reads it back equal. */
public final class SessionWriter {
    private SessionWriter() {}

    /**
     * Writes {@code session.yaml} into the session's folder, in place of one that is there. A reader never sees half of
     * it: it is written beside and renamed. A link is followed.
     *
     * @return the manifest
     * @throws IllegalArgumentException if a value of the session could not be read back, such as an empty label
     * @throws IOException if the file cannot be written; an older manifest is then still there
     */
    public static Path write(Session session) throws IOException {
        byte[] bytes = text(session).getBytes(StandardCharsets.UTF_8);
        Path manifest = session.folder().resolve(Session.MANIFEST);
        AtomicFile.replace(manifest, bytes);
        return manifest;
    }

    /**
     * The text of the manifest.
     *
     * @throws IllegalArgumentException if a value of the session could not be read back
     */
    public static String text(Session session) {
        String text = ManifestText.write(tree(session), false);
        try {
            Session back = SessionReader.parse(
                    new SessionReader.ManifestPlace(session.folder(), Session.MANIFEST, text), false, null);
            if (!back.equals(session)) {
                throw new IllegalArgumentException(
                        "the session of " + session.microphone().label()
                                + " would be read back differently; check that its input is the curve in its file");
            }
        } catch (ManifestException e) {
            throw new IllegalArgumentException("the session could not be read back: " + e.getMessage(), e);
        }
        return text;
    }

    private static Map<String, Object> tree(Session session) {
        Map<String, Object> tree = new LinkedHashMap<>();
        tree.put("version", 1);
        tree.put("microphone", microphone(session.microphone()));
        tree.put("input", input(session.input(), session.inputCurveFile()));
        Stimulus stimulus = session.stimulus();
        if (stimulus != null) {
            Map<String, Object> part = new LinkedHashMap<>();
            part.put("kind", stimulus.kind().word());
            ManifestText.put(part, "file", stimulus.file());
            tree.put("stimulus", part);
        }
        ManifestText.put(tree, "level_drift_percent", session.levelDriftPercent());
        ManifestText.put(tree, "operator", session.operator());
        ManifestText.put(tree, "workshop", session.workshop());
        ManifestText.put(tree, "notes", session.notes());
        tree.put("takes", session.takes().stream().map(SessionWriter::take).toList());
        return tree;
    }

    private static Map<String, Object> microphone(Microphone microphone) {
        Map<String, Object> part = new LinkedHashMap<>();
        part.put("label", microphone.label());
        ManifestText.put(part, "maker", microphone.maker());
        ManifestText.put(part, "model", microphone.model());
        ManifestText.put(part, "serial", microphone.serial());
        ManifestText.put(part, "transducer", microphone.transducer());
        ManifestText.put(part, "rated_impedance_ohm", microphone.ratedImpedanceOhm());
        ManifestText.put(part, "rated_minimum_load_ohm", microphone.ratedMinimumLoadOhm());
        ManifestText.put(part, "notes", microphone.notes());
        return part;
    }

    private static Map<String, Object> input(InputImpedance input, @Nullable String curveFile) {
        Map<String, Object> part = new LinkedHashMap<>();
        InputImpedance bare = input instanceof PhantomFedInput fed ? fed.bare() : input;
        if (bare instanceof StatedInput stated) {
            ManifestText.put(part, "resistance_ohm", stated.ohm());
            ManifestText.put(part, "resistance_tolerance_percent", stated.tolerancePercent());
            capacitance(part, stated.capacitancePf(), stated.capacitanceTolerancePercent());
        } else if (bare instanceof UnknownInput unknown) {
            part.put("resistance_ohm", InputSection.UNKNOWN);
            capacitance(part, unknown.capacitancePf(), unknown.capacitanceTolerancePercent());
        } else if (bare instanceof MeasuredInput && curveFile != null) {
            part.put("curve", curveFile);
        } else {
            throw new IllegalArgumentException(
                    "a measured input has no file to be written down; save its curve in the session folder first");
        }
        if (bare != input) {
            part.put("add_phantom_feeds", true);
        }
        return part;
    }

    private static void capacitance(Map<String, Object> part, double pf, double tolerancePercent) {
        if (pf != 0) {
            ManifestText.put(part, "capacitance_pf", pf);
            ManifestText.put(part, "capacitance_tolerance_percent", tolerancePercent);
        }
    }

    private static Map<String, Object> take(Take take) {
        Map<String, Object> part = new LinkedHashMap<>();
        part.put("file", take.file());
        Load load = take.load();
        ManifestText.put(part, "load_ohm", load.isOpen() ? TakeList.OPEN : (Double) load.ohm());
        if (load.isMeasured()) {
            ManifestText.put(part, "load_u_ohm", load.standardUncertaintyOhm());
        } else if (!load.isOpen()) {
            ManifestText.put(part, "load_tolerance_percent", load.tolerancePercent());
        }
        part.put("channel", take.channel());
        ManifestText.put(part, "reference_channel", take.referenceChannel());
        ManifestText.put(part, "note", take.note());
        ManifestText.put(part, "time", take.time() == null ? null : take.time().toString());
        return part;
    }
}
