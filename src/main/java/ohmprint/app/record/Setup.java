package ohmprint.app.record;

import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import ohmprint.app.BadInputException;
import ohmprint.circuit.Load;
import ohmprint.files.AtomicFile;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * What is settled for all takes of a session and not in its manifest; {@value #NAME} in its folder holds it.
 *
 * @param loads loads of all takes in order, a repeated one among them
 * @param inputDevice name of the recording device, or null for the system's usual one
 * @param outputDevice name of the playing device, or null likewise
 * @param rate sample rate in hertz
 * @param channels channels that are opened
 * @param channel channel of the microphone, from 1
 * @param referenceChannel channel of the reference, or null
 * @param leadSeconds silence before the sound
 * @param tailSeconds silence after it
 * @param expectedOhm expected impedance in ohms, or null
 */
public record Setup(
        List<Load> loads,
        @Nullable String inputDevice,
        @Nullable String outputDevice,
        int rate,
        int channels,
        int channel,
        @Nullable Integer referenceChannel,
        double leadSeconds,
        double tailSeconds,
        @Nullable Double expectedOhm) {
    static final int USUAL_RATE = 48_000;

    private static final String NAME = "recording.json";
    private static final int VERSION = 1;

    /** Copies the list. */
    public Setup {
        loads = List.copyOf(loads);
    }

    /** With the devices of the system, two channels, 1 s of silence before the sound and 0.7 s after it. */
    static Setup usual(List<Load> loads) {
        return new Setup(loads, null, null, USUAL_RATE, 2, 1, null, 1, 0.7, null);
    }

    /**
     * The loads that are wanted in the order of the takes, the first once more at the end if that is wanted.
     *
     * @throws BadInputException if there are not two different ones, or one cannot be a resistor
     */
    public static List<Load> loads(RecordRequest.@Nullable Loads wanted) throws BadInputException {
        if (wanted == null || wanted.ohms().stream().distinct().count() < 2) {
            throw new BadInputException(
                    "a session needs two or more different loads; give them in the order of the takes,"
                            + " for example 150 and 1500 Ω");
        }
        List<Load> loads = new ArrayList<>();
        try {
            for (double ohm : wanted.ohms()) {
                loads.add(Double.isInfinite(ohm) ? Load.open() : Load.ofOhms(ohm, wanted.tolerancePercent()));
            }
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        if (wanted.repeatFirst()
                && loads.get(loads.size() - 1).ohm() != loads.get(0).ohm()) {
            loads.add(loads.get(0));
        }
        return loads;
    }

    /** The loads that have no take yet: each take of the session stands for one load of its value. */
    List<Load> remaining(Session session) {
        List<Double> done = new ArrayList<>(
                session.takes().stream().map(t -> t.load().ohm()).toList());
        List<Load> out = new ArrayList<>();
        for (Load load : loads) {
            if (!done.remove((Double) load.ohm())) {
                out.add(load);
            }
        }
        return out;
    }

    /** The highest load, with which the level is set. */
    Load highest() {
        return loads.stream().max(Comparator.comparingDouble(Load::ohm)).orElseThrow();
    }

    /** The entry of a take. */
    Take take(String file, Load load, OffsetDateTime time) {
        return new Take(file, load).onChannels(channel, referenceChannel).at(time);
    }

    /** Writes its file, in place of one that is there; a reader never sees half of it. */
    void write(Path folder) throws IOException {
        ObjectNode root = begun(loads);
        root.put("input_device", inputDevice);
        root.put("output_device", outputDevice);
        root.put("sample_rate_hz", rate);
        root.put("channels", channels);
        root.put("channel", channel);
        root.put("reference_channel", referenceChannel);
        root.put("lead_seconds", leadSeconds);
        root.put("tail_seconds", tailSeconds);
        root.put("expected_impedance_ohm", expectedOhm);
        write(folder, root);
    }

    /** Plans the loads of a session that has not been recorded yet: devices and channels are not settled then. */
    public static void plan(Path folder, List<Load> loads) throws IOException {
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
     * Reads its file.
     *
     * @return null when there is none, or one that holds loads alone
     * @throws BadInputException if it cannot be understood
     */
    static @Nullable Setup read(Path folder) throws IOException, BadInputException {
        return read(folder, root -> !root.has("sample_rate_hz") ? null : setup(root));
    }

    /**
     * The loads that are planned, in order; a repeated one is there twice.
     *
     * @return null when nothing is planned
     * @throws BadInputException if the file cannot be understood
     */
    public static @Nullable List<Load> planned(Path folder) throws IOException, BadInputException {
        return read(folder, Setup::loads);
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
