package ohmprint.app.record;

import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import ohmprint.app.BadInputException;
import ohmprint.circuit.Load;
import ohmprint.files.AtomicFile;
import org.jspecify.annotations.Nullable;

/** The settled setup of a session as {@value #NAME} in its folder. */
final class SetupFile {
    static final String NAME = "recording.json";

    private static final int VERSION = 1;

    private SetupFile() {}

    /** Writes it, in place of one that is there; a reader never sees half of it. */
    static void write(Path folder, Setup setup) throws IOException {
        ObjectNode root = begun(setup.loads());
        root.put("input_device", setup.inputDevice());
        root.put("output_device", setup.outputDevice());
        root.put("sample_rate_hz", setup.rate());
        root.put("channels", setup.channels());
        root.put("channel", setup.channel());
        root.put("reference_channel", setup.referenceChannel());
        root.put("lead_seconds", setup.leadSeconds());
        root.put("tail_seconds", setup.tailSeconds());
        root.put("expected_impedance_ohm", setup.expectedOhm());
        write(folder, root);
    }

    /** Writes one that holds loads alone: devices and channels are not settled yet. */
    static void writeLoads(Path folder, List<Load> loads) throws IOException {
        write(folder, begun(loads));
    }

    private static ObjectNode begun(List<Load> loads) {
        ObjectNode root = new JsonMapper().createObjectNode();
        root.put("version", VERSION);
        ArrayNode list = root.putArray("loads");
        for (Load load : loads) {
            ObjectNode one = list.addObject();
            if (load.isOpen()) {
                one.put("load_ohm", "open");
            } else {
                one.put("load_ohm", load.ohm());
                if (load.isMeasured()) {
                    one.put("load_u_ohm", load.standardUncertaintyOhm());
                } else {
                    one.put("load_tolerance_percent", load.tolerancePercent());
                }
            }
        }
        return root;
    }

    private static void write(Path folder, ObjectNode root) throws IOException {
        AtomicFile.replace(
                folder.resolve(NAME),
                new JsonMapper().writerWithDefaultPrettyPrinter().writeValueAsBytes(root));
    }

    /**
     * Reads it.
     *
     * @return null when there is none, or one that holds loads alone
     * @throws BadInputException if it cannot be understood
     */
    static @Nullable Setup read(Path folder) throws IOException, BadInputException {
        return read(folder, root -> !root.has("sample_rate_hz") ? null : setup(root));
    }

    /**
     * Reads the loads of it.
     *
     * @return null when there is none
     * @throws BadInputException if it cannot be understood
     */
    static @Nullable List<Load> loads(Path folder) throws IOException, BadInputException {
        return read(folder, SetupFile::loads);
    }

    private static <T> @Nullable T read(Path folder, Function<JsonNode, @Nullable T> part)
            throws IOException, BadInputException {
        Path file = folder.resolve(NAME);
        if (!Files.exists(file)) {
            return null;
        }
        try {
            JsonNode root = new JsonMapper().readTree(Files.readAllBytes(file));
            if (root.path("version").asInt() != VERSION) {
                throw new IllegalArgumentException("version is " + root.path("version") + " instead of " + VERSION);
            }
            return part.apply(root);
        } catch (JacksonException | IllegalArgumentException e) {
            String why = e instanceof JacksonException j ? j.getOriginalMessage() : e.getMessage();
            throw new BadInputException(
                    file + " cannot be understood (" + why + "); delete it and give --loads again", e);
        }
    }

    private static Setup setup(JsonNode root) {
        return new Setup(
                loads(root),
                text(root, "input_device"),
                text(root, "output_device"),
                whole(root, "sample_rate_hz"),
                whole(root, "channels"),
                whole(root, "channel"),
                root.path("reference_channel").isNumber() ? whole(root, "reference_channel") : null,
                number(root, "lead_seconds"),
                number(root, "tail_seconds"),
                root.path("expected_impedance_ohm").isNumber() ? number(root, "expected_impedance_ohm") : null);
    }

    private static List<Load> loads(JsonNode root) {
        List<Load> loads = new ArrayList<>();
        for (JsonNode one : wanted(root, "loads")) {
            loads.add(load(one));
        }
        return loads;
    }

    private static Load load(JsonNode one) {
        JsonNode ohm = wanted(one, "load_ohm");
        if (ohm.asText().equals("open")) {
            return Load.open();
        }
        return one.has("load_u_ohm")
                ? Load.measured(number(one, "load_ohm"), number(one, "load_u_ohm"))
                : Load.ofOhms(number(one, "load_ohm"), number(one, "load_tolerance_percent"));
    }

    private static JsonNode wanted(JsonNode node, String key) {
        JsonNode value = node.get(key);
        if (value == null || value.isNull()) {
            throw new IllegalArgumentException(key + " is missing");
        }
        return value;
    }

    private static double number(JsonNode node, String key) {
        JsonNode value = wanted(node, key);
        if (!value.isNumber()) {
            throw new IllegalArgumentException(key + " is not a number");
        }
        return value.asDouble();
    }

    private static int whole(JsonNode node, String key) {
        double value = number(node, key);
        if (value != Math.rint(value) || value < 1 || value > 1e7) {
            throw new IllegalArgumentException(key + " is " + value);
        }
        return (int) value;
    }

    private static @Nullable String text(JsonNode node, String key) {
        JsonNode value = node.get(key);
        return value == null || value.isNull() ? null : value.asText();
    }
}
