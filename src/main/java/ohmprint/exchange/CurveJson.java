package ohmprint.exchange;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.core.util.Separators;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.StringJoiner;
import java.util.function.IntToDoubleFunction;
import java.util.function.ToDoubleFunction;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.Consistency.Octave;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.ImpedanceOutline;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.Provenance;
import ohmprint.impedance.Provenance.FileOrigin;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.impedance.Route;
import ohmprint.impedance.SharedCause;
import ohmprint.impedance.Usability;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/**
 * A whole measurement as a JSON object, written and read; keys as described for the package. The writer, the reader and the
 * objects of later programs stand in one file, because each key is a promise that all of them keep.
 */
public final class CurveJson {
    /** Value of {@code format}. */
    public static final String FORMAT = "ohmprint-curve";

    /** Value of {@code version}. */
    public static final int VERSION = 1;

    private static final JsonFactory FACTORY = JsonFactory.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    /** Key of the files that lie beside it, with the SHA-256 of each. */
    private static final String FILES = "files";

    /** How the quantity of an input begins. */
    private static final String INPUT = "input impedance";

    private CurveJson() {}

    /** The whole file, for a measurement without others beside it. */
    public static String write(Measurement measurement) {
        return write(measurement, Map.of());
    }

    /**
     * The whole file, indented, ended by LF. Streamed: no reflection, so that a short program run stays short.
     *
     * @param files SHA-256 in hexadecimal of each file that is written beside it, by name
     */
    public static String write(Measurement measurement, Map<String, String> files) {
        StringWriter text = new StringWriter();
        DefaultIndenter indent = new DefaultIndenter("  ", "\n");
        DefaultPrettyPrinter layout = new DefaultPrettyPrinter(
                        Separators.createDefaultInstance().withObjectFieldValueSpacing(Separators.Spacing.AFTER))
                .withObjectIndenter(indent)
                .withArrayIndenter(indent);
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            json.setPrettyPrinter(layout);
            new Writer(json).measurement(measurement, files);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.append('\n').toString();
    }

    /**
     * Reads a measurement back.
     *
     * @param text the whole file
     * @param name file name for messages
     * @throws ExchangeException if the text is no JSON or not as described for the package
     */
    public static Measurement read(String text, String name) throws ExchangeException {
        return Reader.measurement(text, name);
    }

    /**
     * The text of a file that holds a measurement. Its size is looked at before anything is read.
     *
     * @param file a {@code curve.json}
     * @throws ExchangeException if it is larger than any measurement or not UTF-8
     * @throws IOException if it cannot be read
     */
    public static String text(Path file) throws IOException {
        requireSize(file, Files.size(file));
        byte[] bytes;
        try (InputStream in = Files.newInputStream(file)) {
            bytes = in.readNBytes(Measurement.MOST_BYTES + 1);
            requireSize(file, bytes.length);
        }
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes))
                    .toString();
        } catch (CharacterCodingException e) {
            throw new ExchangeException(
                    file + ": is no text in UTF-8; give a curve.json as written by this program", e);
        }
    }

    private static void requireSize(Path file, long bytes) throws ExchangeException {
        if (bytes > Measurement.MOST_BYTES) {
            throw new ExchangeException(file + ": is " + bytes + " bytes long, more than the " + Measurement.MOST_BYTES
                    + " bytes that a measurement may have; give a curve.json as written by this program");
        }
    }

    /**
     * What a measurement was judged to be. Values are not looked at, which takes a tenth of the time of reading all, but the
     * file is followed to its end.
     *
     * @param file a {@code curve.json}
     * @throws ExchangeException if it is larger than any measurement, no JSON, or not the impedance of a microphone as described
     *     for the package
     * @throws IOException if it cannot be read
     */
    public static Usability verdict(Path file) throws IOException {
        requireSize(file, Files.size(file));
        String name = file.toString();
        ObjectNode told = JsonNodeFactory.instance.objectNode().put("verdict", "");
        try (JsonParser json = FACTORY.createParser(file.toFile())) {
            if (json.nextToken() != JsonToken.START_OBJECT) {
                throw new ExchangeException(name + ": no object; use a curve.json as written by this program");
            }
            while (json.nextToken() == JsonToken.FIELD_NAME) {
                String key = json.currentName();
                if (json.nextToken().isScalarValue()) {
                    told.put(key, json.getText());
                } else {
                    json.skipChildren();
                }
            }
            if (json.nextToken() != null) {
                throw new ExchangeException(
                        name + ": text behind the end; use a curve.json as written by this program");
            }
        } catch (JsonProcessingException e) {
            throw new ExchangeException(
                    name + ": " + e.getOriginalMessage() + "; use a curve.json as written by this program", e);
        }
        if (!told.path("format").asText().equals(FORMAT)
                || !told.path("version").asText().equals(String.valueOf(VERSION))
                || told.path("quantity").asText().startsWith(INPUT)) {
            throw new ExchangeException(
                    name + ": no impedance of a microphone; use a curve.json as written by this program");
        }
        return new JsonPlace(told, name).word("verdict", Usability.values(), Usability::word);
    }

    /** Writes one object after the other. */
    private record Writer(JsonGenerator json) {
        void measurement(Measurement m, Map<String, String> files) throws IOException {
            json.writeStartObject();
            json.writeStringField("format", FORMAT);
            json.writeNumberField("version", VERSION);
            json.writeStringField("quantity", m.curve().quantity());
            json.writeBooleanField("parallel_with_input", m.curve().parallelWithInput());
            microphone(m.microphone());
            json.writeNumberField("bands_per_octave", m.curve().bands().fraction());
            json.writeStringField("route", m.route().word());
            json.writeStringField("route_reason", m.routeReason());
            json.writeStringField("verdict", m.usability().word());
            json.writeArrayFieldStart("findings");
            for (Finding f : m.findings()) {
                json.writeStartObject();
                json.writeStringField("code", f.code().word());
                string("take", f.take());
                json.writeStringField("message", f.message());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("bands");
            for (BandValue v : m.curve().values()) {
                band(v);
            }
            json.writeEndArray();
            json.writeArrayFieldStart("budget");
            for (BandValue v : m.curve().values()) {
                if (v.budget() != null) {
                    json.writeStartObject();
                    number("frequency_hz", v.frequencyHz());
                    causes(v.budget());
                    json.writeEndObject();
                }
            }
            json.writeEndArray();
            CovarianceObject.write(json, m.curve().covariance());
            ConsistencyObject.write(json, m.curve().consistency());
            provenance(m.provenance());
            if (!files.isEmpty()) {
                json.writeObjectFieldStart(FILES);
                for (Map.Entry<String, String> file : files.entrySet()) {
                    json.writeStringField(file.getKey(), file.getValue());
                }
                json.writeEndObject();
            }
            json.writeEndObject();
        }

        private void microphone(Microphone m) throws IOException {
            json.writeObjectFieldStart("microphone");
            json.writeStringField("label", m.label());
            string("maker", m.maker());
            string("model", m.model());
            string("serial", m.serial());
            string("transducer", m.transducer());
            number("rated_impedance_ohm", m.ratedImpedanceOhm());
            number("rated_minimum_load_ohm", m.ratedMinimumLoadOhm());
            string("notes", m.notes());
            json.writeEndObject();
        }

        private void band(BandValue v) throws IOException {
            json.writeStartObject();
            number("frequency_hz", v.frequencyHz());
            json.writeStringField("status", v.status().word());
            number("magnitude_ohm", v.magnitudeOhm());
            number("phase_deg", v.phaseDeg());
            number("resistance_ohm", v.resistanceOhm());
            number("reactance_ohm", v.reactanceOhm());
            number("magnitude_u95_ohm", v.magnitudeU95Ohm());
            number("phase_u95_deg", v.phaseU95Deg());
            number("snr_db", v.snrDb());
            number("magnitude_low_ohm", v.magnitudeLowOhm());
            number("magnitude_high_ohm", v.magnitudeHighOhm());
            PlaneCovariance c = v.covariance();
            if (c == null) {
                json.writeNullField("covariance");
            } else {
                json.writeObjectFieldStart("covariance");
                number("var_r", c.varR());
                number("var_x", c.varX());
                number("cov_rx", c.covRX());
                json.writeEndObject();
            }
            if (v.budget() == null) {
                json.writeNullField("budget");
            } else {
                json.writeObjectFieldStart("budget");
                causes(v.budget());
                json.writeEndObject();
            }
            json.writeBooleanField("u95_by_draws", v.byDraws());
            ImpedanceOutline outline = v.outline();
            if (outline != null) {
                json.writeObjectFieldStart("outline");
                int points = outline.resistanceOhm().size();
                numbers(json, "resistance_ohm", points, outline.resistanceOhm()::get);
                numbers(json, "magnitude_ohm", points, outline.magnitudeOhm()::get);
                json.writeEndObject();
            }
            json.writeEndObject();
        }

        private void causes(BandBudget b) throws IOException {
            for (CauseOrigin origin : CauseOrigin.values()) {
                number(origin.ohmKey(), b.of(origin));
            }
        }

        private void provenance(Provenance p) throws IOException {
            json.writeObjectFieldStart("provenance");
            json.writeStringField("program_version", p.programVersion());
            json.writeStringField("computed_at", p.computedAt().toString());
            json.writeStringField("input", p.input());
            FileOrigin stimulus = p.stimulus();
            if (stimulus == null) {
                json.writeNullField("stimulus");
            } else {
                json.writeObjectFieldStart("stimulus");
                file(stimulus);
                json.writeEndObject();
            }
            json.writeArrayFieldStart("takes");
            for (TakeOrigin t : p.takes()) {
                json.writeStartObject();
                file(t.file());
                if (t.loadOhm() == Double.POSITIVE_INFINITY) {
                    json.writeStringField("load_ohm", "open");
                } else {
                    number("load_ohm", t.loadOhm());
                }
                number("load_tolerance_percent", t.loadTolerancePercent());
                json.writeNumberField("channel", t.channel());
                if (t.referenceChannel() == null) {
                    json.writeNullField("reference_channel");
                } else {
                    json.writeNumberField("reference_channel", t.referenceChannel());
                }
                number("delay_samples", t.delaySamples());
                number("drift_db", t.driftDb());
                if (!Double.isNaN(t.clockPpm())) {
                    number("clock_ppm", t.clockPpm());
                }
                json.writeBooleanField("left_out", t.leftOut());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }

        private void file(FileOrigin f) throws IOException {
            json.writeStringField("file", f.file());
            json.writeStringField("sha256", f.sha256());
        }

        private void string(String key, @Nullable String value) throws IOException {
            if (value == null) {
                json.writeNullField(key);
            } else {
                json.writeStringField(key, value);
            }
        }

        private void number(String key, @Nullable Double value) throws IOException {
            if (value == null || !Double.isFinite(value)) {
                json.writeNullField(key);
            } else {
                json.writeNumberField(key, value);
            }
        }
    }

    /** Reads one object after the other. */
    private static final class Reader {
        private static final String[] CAUSES =
                Arrays.stream(CauseOrigin.values()).map(CauseOrigin::ohmKey).toArray(String[]::new);

        static Measurement measurement(String text, String name) throws ExchangeException {
            JsonPlace top = parse(text, name);
            if (!top.node().isObject()
                    || !FORMAT.equals(top.node().path("format").textValue())) {
                throw new ExchangeException(
                        name + ": no \"format\": \"" + FORMAT + "\"; use a curve.json as written by this program");
            }
            int version = top.integer("version");
            if (version != VERSION) {
                throw new ExchangeException(name + ": version " + version
                        + " of the format, this program reads version " + VERSION + "; use a newer program");
            }
            top.withKeys(
                    List.of(CovarianceObject.KEY, ConsistencyObject.KEY, FILES),
                    "format",
                    "version",
                    "quantity",
                    "parallel_with_input",
                    "microphone",
                    "bands_per_octave",
                    "route",
                    "route_reason",
                    "verdict",
                    "findings",
                    "bands",
                    "budget",
                    "provenance");
            ImpedanceCurve curve = curve(top, name);
            if (!curve.quantity().equals(top.text("quantity"))) {
                throw new ExchangeException(name + ": quantity \"" + top.text("quantity")
                        + "\" contradicts parallel_with_input " + curve.parallelWithInput() + "; correct one of them");
            }
            return new Measurement(
                    microphone(top.at("microphone")),
                    curve,
                    top.word("route", Route.values(), Route::word),
                    top.text("route_reason"),
                    top.word("verdict", Usability.values(), Usability::word),
                    findings(top),
                    provenance(top.at("provenance")));
        }

        private static JsonPlace parse(String text, String name) throws ExchangeException {
            JsonMapper mapper = JsonMapper.builder()
                    .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                    .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
                    .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
                    .build();
            try {
                JsonNode tree = mapper.readTree(text);
                return new JsonPlace(tree, name);
            } catch (JsonProcessingException e) {
                String line = e.getLocation() == null
                        ? ""
                        : ", line " + e.getLocation().getLineNr();
                throw new ExchangeException(
                        name + line + ": " + e.getOriginalMessage() + "; use a curve.json as written by this program",
                        e);
            }
        }

        private static ImpedanceCurve curve(JsonPlace top, String name) throws ExchangeException {
            List<JsonPlace> places = top.list("bands");
            if (places.isEmpty()) {
                throw new ExchangeException(name + ".bands: empty; a curve has at least one band");
            }
            List<BandValue> values = new ArrayList<>();
            for (JsonPlace place : places) {
                values.add(band(place));
            }
            budgetAgrees(top, values);
            double[] midbands =
                    values.stream().mapToDouble(BandValue::frequencyHz).toArray();
            FrequencyBands bands = Grid.spanning(top.integer("bands_per_octave"), midbands, name + ".bands");
            try {
                ImpedanceCurve curve = new ImpedanceCurve(bands, values, top.flag("parallel_with_input"));
                return new ImpedanceCurve(
                        bands,
                        values,
                        curve.parallelWithInput(),
                        CovarianceObject.read(top, curve),
                        top.text("quantity").startsWith(INPUT) ? ImpedanceCurve.Side.INPUT : ImpedanceCurve.Side.SOURCE,
                        ConsistencyObject.read(top, bands.size()));
            } catch (IllegalArgumentException e) {
                throw new ExchangeException(name + ".bands: " + e.getMessage() + "; give every band of the range", e);
            }
        }

        private static BandValue band(JsonPlace p) throws ExchangeException {
            p.withKeys(
                    List.of("u95_by_draws", "outline"),
                    "frequency_hz",
                    "status",
                    "magnitude_ohm",
                    "phase_deg",
                    "resistance_ohm",
                    "reactance_ohm",
                    "magnitude_u95_ohm",
                    "phase_u95_deg",
                    "snr_db",
                    "magnitude_low_ohm",
                    "magnitude_high_ohm",
                    "covariance",
                    "budget");
            BandStatus status = p.word("status", BandStatus.values(), BandStatus::word);
            if (status == BandStatus.MEASURED) {
                p.requiredNumber("magnitude_ohm");
            }
            if (status == BandStatus.INTERVAL) {
                p.requiredNumber("magnitude_low_ohm");
            }
            JsonPlace covariance = p.at("covariance");
            JsonPlace budget = p.at("budget");
            return new BandValue(
                    p.hertz("frequency_hz"),
                    status,
                    p.ohms("resistance_ohm"),
                    p.ohms("reactance_ohm"),
                    p.magnitude("magnitude_ohm"),
                    Math.toRadians(p.number("phase_deg")),
                    p.ohms("magnitude_u95_ohm"),
                    Math.toRadians(p.number("phase_u95_deg")),
                    p.ohms("magnitude_low_ohm"),
                    p.ohms("magnitude_high_ohm"),
                    p.number("snr_db"),
                    covariance.isNull() ? null : covariance(covariance),
                    budget.isNull() ? null : causes(budget.withKeys(CAUSES)),
                    p.has("u95_by_draws") && p.flag("u95_by_draws"),
                    p.has("outline") ? outline(p.at("outline")) : null);
        }

        private static ImpedanceOutline outline(JsonPlace p) throws ExchangeException {
            p.withKeys("resistance_ohm", "magnitude_ohm");
            int points = p.list("resistance_ohm").size();
            try {
                return new ImpedanceOutline(
                        Arrays.stream(p.numbers("resistance_ohm", points))
                                .boxed()
                                .toList(),
                        Arrays.stream(p.numbers("magnitude_ohm", points))
                                .boxed()
                                .toList());
            } catch (IllegalArgumentException e) {
                throw new ExchangeException(p.place() + ": " + e.getMessage(), e);
            }
        }

        private static PlaneCovariance covariance(JsonPlace p) throws ExchangeException {
            p.withKeys("var_r", "var_x", "cov_rx");
            return new PlaneCovariance(
                    p.requiredNumber("var_r"), p.requiredNumber("var_x"), p.requiredNumber("cov_rx"));
        }

        private static BandBudget causes(JsonPlace p) throws ExchangeException {
            Map<CauseOrigin, Double> parts = new EnumMap<>(CauseOrigin.class);
            for (CauseOrigin origin : CauseOrigin.values()) {
                parts.put(origin, p.number(origin.ohmKey()));
            }
            return BandBudget.of(parts::get);
        }

        /** The list at the top repeats what the bands hold; a file in which the two differ was edited by hand. */
        private static void budgetAgrees(JsonPlace top, List<BandValue> values) throws ExchangeException {
            List<BandValue> expected =
                    values.stream().filter(v -> v.budget() != null).toList();
            List<JsonPlace> list = top.list("budget");
            boolean same = list.size() == expected.size();
            for (int i = 0; same && i < expected.size(); i++) {
                JsonPlace p = list.get(i);
                same = p.requiredNumber("frequency_hz") == expected.get(i).frequencyHz()
                        && causes(p).equals(expected.get(i).budget());
            }
            if (!same) {
                throw new ExchangeException(top.place()
                        + ".budget: differs from the budgets inside bands; restore the file as it was written");
            }
        }

        private static Microphone microphone(JsonPlace p) throws ExchangeException {
            p.withKeys(
                    "label",
                    "maker",
                    "model",
                    "serial",
                    "transducer",
                    "rated_impedance_ohm",
                    "rated_minimum_load_ohm",
                    "notes");
            return new Microphone(
                    p.text("label"),
                    p.textOrNull("maker"),
                    p.textOrNull("model"),
                    p.textOrNull("serial"),
                    p.textOrNull("transducer"),
                    numberOrNull(p, "rated_impedance_ohm"),
                    numberOrNull(p, "rated_minimum_load_ohm"),
                    p.textOrNull("notes"));
        }

        private static @Nullable Double numberOrNull(JsonPlace p, String key) throws ExchangeException {
            double value = p.number(key);
            return Double.isNaN(value) ? null : Double.valueOf(value);
        }

        private static List<Finding> findings(JsonPlace top) throws ExchangeException {
            List<Finding> findings = new ArrayList<>();
            for (JsonPlace p : top.list("findings")) {
                p.withKeys("code", "take", "message");
                findings.add(new Finding(
                        p.word("code", FindingCode.values(), FindingCode::word),
                        p.textOrNull("take"),
                        p.text("message")));
            }
            return findings;
        }

        private static Provenance provenance(JsonPlace p) throws ExchangeException {
            p.withKeys("program_version", "computed_at", "input", "stimulus", "takes");
            Instant computedAt;
            try {
                computedAt = Instant.parse(p.text("computed_at"));
            } catch (DateTimeException e) {
                throw new ExchangeException(
                        p.place() + ".computed_at: \"" + p.text("computed_at")
                                + "\" is no time; write it like 2026-01-31T12:00:00Z",
                        e);
            }
            JsonPlace stimulus = p.at("stimulus");
            List<TakeOrigin> takes = new ArrayList<>();
            for (JsonPlace take : p.list("takes")) {
                takes.add(take(take));
            }
            return new Provenance(
                    p.text("program_version"),
                    computedAt,
                    p.text("input"),
                    takes,
                    stimulus.isNull() ? null : file(stimulus.withKeys("file", "sha256")));
        }

        private static TakeOrigin take(JsonPlace p) throws ExchangeException {
            p.withKeys(
                    List.of("clock_ppm"),
                    "file",
                    "sha256",
                    "load_ohm",
                    "load_tolerance_percent",
                    "channel",
                    "reference_channel",
                    "delay_samples",
                    "drift_db",
                    "left_out");
            boolean open = "open".equals(p.at("load_ohm").node().textValue());
            return new TakeOrigin(
                    file(p),
                    open ? Double.POSITIVE_INFINITY : p.requiredNumber("load_ohm"),
                    p.number("load_tolerance_percent"),
                    p.integer("channel"),
                    p.at("reference_channel").isNull() ? null : Integer.valueOf(p.integer("reference_channel")),
                    p.number("delay_samples"),
                    p.number("drift_db"),
                    p.has("clock_ppm") ? p.requiredNumber("clock_ppm") : Double.NaN,
                    p.flag("left_out"));
        }

        private static FileOrigin file(JsonPlace p) throws ExchangeException {
            return new FileOrigin(p.text("file"), p.text("sha256"));
        }
    }

    /**
     * The object {@code covariance_across_bands}: {@code noise} with the lists {@code var_r}, {@code var_x}, {@code cov_rx},
     * and the list {@code causes} of {@code {name, origin, dr_ohm, dx_ohm}}; every list of numbers has one entry per band,
     * null where the band holds no value, and stands on one line.
     */
    private static final class CovarianceObject {
        /** Its key. */
        static final String KEY = "covariance_across_bands";

        /** Disagreement with the covariance inside the bands, relative to the variances, that rounding may cause. */
        private static final double ROUNDING = 1e-6;

        static void write(JsonGenerator json, @Nullable CurveCovariance covariance) throws IOException {
            if (covariance == null) {
                json.writeNullField(KEY);
                return;
            }
            int bands = covariance.size();
            json.writeObjectFieldStart(KEY);
            json.writeObjectFieldStart("noise");
            noise(json, "var_r", covariance, PlaneCovariance::varR);
            noise(json, "var_x", covariance, PlaneCovariance::varX);
            noise(json, "cov_rx", covariance, PlaneCovariance::covRX);
            json.writeEndObject();
            json.writeArrayFieldStart("causes");
            for (SharedCause cause : covariance.causes()) {
                json.writeStartObject();
                json.writeStringField("name", cause.name());
                json.writeStringField("origin", cause.origin().word());
                numbers(json, "dr_ohm", bands, cause::resistanceOhm);
                numbers(json, "dx_ohm", bands, cause::reactanceOhm);
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }

        /** One entry of a covariance. */
        private interface Entry {
            double of(PlaneCovariance covariance);
        }

        private static void noise(JsonGenerator json, String key, CurveCovariance covariance, Entry entry)
                throws IOException {
            numbers(json, key, covariance.size(), b -> {
                PlaneCovariance own = covariance.noise(b);
                return own == null ? Double.NaN : entry.of(own);
            });
        }

        /** Reads it for a curve that has its values; null where the file holds null or, being older, no such key. */
        static @Nullable CurveCovariance read(JsonPlace top, ImpedanceCurve curve) throws ExchangeException {
            if (!top.has(KEY) || top.at(KEY).isNull()) {
                return null;
            }
            JsonPlace p = top.at(KEY).withKeys("noise", "causes");
            int bands = curve.bands().size();
            JsonPlace n = p.at("noise").withKeys("var_r", "var_x", "cov_rx");
            double[] varR = n.numbers("var_r", bands);
            double[] varX = n.numbers("var_x", bands);
            double[] covRX = n.numbers("cov_rx", bands);
            List<@Nullable PlaneCovariance> noise = new ArrayList<>();
            for (int b = 0; b < bands; b++) {
                boolean known = Double.isFinite(varR[b] + varX[b] + covRX[b]);
                noise.add(known ? new PlaneCovariance(varR[b], varX[b], covRX[b]) : null);
            }
            List<SharedCause> causes = new ArrayList<>();
            for (JsonPlace c : p.list("causes")) {
                c.withKeys("name", "origin", "dr_ohm", "dx_ohm");
                causes.add(SharedCause.ofOhms(
                        c.text("name"),
                        c.word("origin", CauseOrigin.values(), CauseOrigin::word),
                        c.numbers("dr_ohm", bands),
                        c.numbers("dx_ohm", bands)));
            }
            CurveCovariance covariance;
            try {
                covariance = CurveCovariance.of(causes, noise);
            } catch (IllegalArgumentException e) {
                throw new ExchangeException(p.place() + ": " + e.getMessage(), e);
            }
            agrees(p, curve.values(), covariance);
            return covariance;
        }

        private static void agrees(JsonPlace p, List<BandValue> values, CurveCovariance covariance)
                throws ExchangeException {
            for (int b = 0; b < values.size(); b++) {
                PlaneCovariance stated = values.get(b).covariance();
                PlaneCovariance summed = covariance.of(b);
                boolean same =
                        (stated == null || summed == null) ? Objects.equals(stated, summed) : near(stated, summed);
                if (!same) {
                    throw new ExchangeException(p.place() + ": the causes and the noise of band " + b
                            + " do not add up to its covariance; restore the file as it was written");
                }
            }
        }

        private static boolean near(PlaneCovariance a, PlaneCovariance b) {
            double allowed = ROUNDING * (a.varR() + a.varX());
            double[] off = {a.varR() - b.varR(), a.varX() - b.varX(), a.covRX() - b.covRX()};
            return Arrays.stream(off).allMatch(d -> Math.abs(d) <= allowed);
        }
    }

    /**
     * The object {@code consistency}: {@code takes} and {@code entered}, each {@code {chi_square, degrees_of_freedom, p_value}} or
     * null, {@code octaves} with the lists {@code frequency_hz}, {@code chi_square} and {@code degrees_of_freedom}, {@code fit_set_aside},
     * and {@code bands} with the lists {@code chi_square}, {@code degrees_of_freedom} and {@code p_value}, one entry per band
     * on one line, null where the band was not fitted.
     */
    private static final class ConsistencyObject {
        /** Its key. */
        static final String KEY = "consistency";

        private static final String SUM = "chi_square";
        private static final String FREEDOM = "degrees_of_freedom";
        private static final String CHANCE = "p_value";
        private static final String OCTAVES = "octaves";
        private static final String HZ = "frequency_hz";
        private static final String SET_ASIDE = "fit_set_aside";

        static void write(JsonGenerator json, @Nullable Consistency consistency) throws IOException {
            if (consistency == null) {
                json.writeNullField(KEY);
                return;
            }
            json.writeObjectFieldStart(KEY);
            one(json, "takes", consistency.takes());
            one(json, "entered", consistency.entered());
            json.writeObjectFieldStart("bands");
            list(json, SUM, consistency.bands(), ChiSquare::value);
            list(json, FREEDOM, consistency.bands(), ChiSquare::freedom);
            list(json, CHANCE, consistency.bands(), ChiSquare::pValue);
            json.writeEndObject();
            json.writeObjectFieldStart(OCTAVES);
            List<Octave> octaves = consistency.octaves();
            numbers(json, HZ, octaves.size(), o -> octaves.get(o).frequencyHz());
            numbers(json, SUM, octaves.size(), o -> octaves.get(o).left().value());
            numbers(json, FREEDOM, octaves.size(), o -> octaves.get(o).left().freedom());
            json.writeEndObject();
            json.writeBooleanField(SET_ASIDE, consistency.setAside());
            json.writeEndObject();
        }

        private static void one(JsonGenerator json, String key, @Nullable ChiSquare chi) throws IOException {
            if (chi == null) {
                json.writeNullField(key);
                return;
            }
            json.writeObjectFieldStart(key);
            json.writeNumberField(SUM, chi.value());
            json.writeNumberField(FREEDOM, chi.freedom());
            json.writeNumberField(CHANCE, chi.pValue());
            json.writeEndObject();
        }

        private static void list(
                JsonGenerator json,
                String key,
                List<? extends @Nullable ChiSquare> bands,
                ToDoubleFunction<ChiSquare> part)
                throws IOException {
            numbers(json, key, bands.size(), b -> {
                ChiSquare chi = bands.get(b);
                return chi == null ? Double.NaN : part.applyAsDouble(chi);
            });
        }

        /** Reads it; null where the file holds null or, being older, no such key. The p values follow from the others. */
        static @Nullable Consistency read(JsonPlace top, int bands) throws ExchangeException {
            if (!top.has(KEY) || top.at(KEY).node().isNull()) {
                return null;
            }
            JsonPlace p = top.at(KEY).withKeys(List.of(OCTAVES, SET_ASIDE), "takes", "entered", "bands");
            JsonPlace own = p.at("bands").withKeys(SUM, FREEDOM, CHANCE);
            double[] sum = own.numbers(SUM, bands);
            double[] freedom = own.numbers(FREEDOM, bands);
            List<@Nullable ChiSquare> all = new ArrayList<>();
            for (int b = 0; b < bands; b++) {
                all.add(freedom[b] > 0 ? new ChiSquare(sum[b], freedom[b]) : null);
            }
            return new Consistency(
                    one(p.at("takes")), one(p.at("entered")), all, octaves(p), p.has(SET_ASIDE) && p.flag(SET_ASIDE));
        }

        private static List<Octave> octaves(JsonPlace p) throws ExchangeException {
            List<Octave> out = new ArrayList<>();
            if (p.has(OCTAVES)) {
                JsonPlace octaves = p.at(OCTAVES).withKeys(HZ, SUM, FREEDOM);
                int count = octaves.at(HZ).node().size();
                double[] hz = octaves.numbers(HZ, count);
                double[] sum = octaves.numbers(SUM, count);
                double[] freedom = octaves.numbers(FREEDOM, count);
                for (int o = 0; o < count; o++) {
                    out.add(new Octave(hz[o], new ChiSquare(sum[o], freedom[o])));
                }
            }
            return out;
        }

        private static @Nullable ChiSquare one(JsonPlace p) throws ExchangeException {
            if (p.node().isNull()) {
                return null;
            }
            p.withKeys(SUM, FREEDOM, CHANCE);
            return new ChiSquare(p.requiredNumber(SUM), p.requiredNumber(FREEDOM));
        }
    }

    /** A list of numbers on one line, null for what is not finite. */
    private static void numbers(JsonGenerator json, String key, int count, IntToDoubleFunction value)
            throws IOException {
        StringJoiner line = new StringJoiner(", ", "[", "]");
        for (int i = 0; i < count; i++) {
            double v = value.applyAsDouble(i);
            line.add(Double.isFinite(v) ? Numbers.shortest(v) : "null");
        }
        json.writeFieldName(key);
        json.writeRawValue(line.toString());
    }
}
