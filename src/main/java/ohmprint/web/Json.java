package ohmprint.web;

import com.fasterxml.jackson.annotation.JsonProperty;
import com.fasterxml.jackson.annotation.JsonPropertyOrder;
import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonDeserializer;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.PropertyNamingStrategies;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.exc.MismatchedInputException;
import com.fasterxml.jackson.databind.exc.UnrecognizedPropertyException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.databind.ser.std.ToStringSerializer;
import java.io.IOException;
import java.time.Instant;
import java.util.function.Function;
import java.util.stream.Collectors;
import ohmprint.app.BadInputException;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.library.AddToLibrary;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.Spread;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.plan.LoadPlan;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.TakeReport;
import ohmprint.app.workspace.LibraryService;
import ohmprint.app.workspace.LoadControl;
import ohmprint.app.workspace.Recorder;
import ohmprint.app.workspace.ResistanceValue;
import ohmprint.conformity.RequirementVerdict;
import ohmprint.impedance.Finding;
import ohmprint.impedance.PredictedValue;
import ohmprint.json.JsonObject;
import ohmprint.json.LibraryJson;
import ohmprint.json.MatchJson;
import ohmprint.json.MeasurementJson;
import ohmprint.json.PlanJson;
import ohmprint.json.RecordingJson;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.ImportResult;
import ohmprint.library.LibraryHealth;
import ohmprint.library.Link;
import ohmprint.library.Similarity;

/** Records as JSON and back; the package comment tells how values are written. */
final class Json {
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .propertyNamingStrategy(PropertyNamingStrategies.SNAKE_CASE)
            .enable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .disable(MapperFeature.ALLOW_COERCION_OF_SCALARS)
            .disable(MapperFeature.AUTO_DETECT_IS_GETTERS)
            .disable(DeserializationFeature.ACCEPT_FLOAT_AS_INT)
            .addMixIn(Recorder.Request.class, RecorderNames.class)
            .addMixIn(LibraryService.Care.Noted.class, NotedNames.class)
            .addMixIn(EntryList.class, EntryListNames.class)
            .addModule(new ObjectModule()
                    .with(Finding.class, MeasurementJson::finding)
                    .with(TakeReport.class, Json::take)
                    .with(LevelReport.class, Json::level)
                    .with(DeviceList.Format.class, Json::format)
                    .with(LoadControl.Effect.class, Json::effect)
                    .with(MatchOutcome.class, Json::inputs)
                    .with(CheckOutcome.class, Json::check)
                    .with(LoadPlan.class, PlanJson::plan)
                    .with(Comparison.Difference.class, LibraryJson::difference)
                    .with(Spread.class, LibraryJson::spread)
                    .with(Similarity.class, like -> LibraryJson.similarity(like).put("words", like.words()))
                    .with(AddToLibrary.Outcome.class, LibraryJson::added)
                    .with(Entry.class, LibraryJson::entryWithBench)
                    .with(Link.class, LibraryJson::link)
                    .with(ImportResult.class, LibraryJson::imported)
                    .with(LibraryHealth.class, LibraryJson::health)
                    .addSerializer(double.class, new Numbers())
                    .addSerializer(Double.class, new Numbers())
                    .addSerializer(double[].class, new Arrays())
                    .addSerializer(Instant.class, ToStringSerializer.instance)
                    .addSerializer(ResistanceValue.class, new OhmsWriter())
                    .addDeserializer(ResistanceValue.class, new OhmsReader()))
            .build();

    /** Type of an answer in JSON, as in HTTP. */
    static final String TYPE = "application/json; charset=utf-8";

    private Json() {}

    /** What went wrong, in a sentence. */
    private record Refusal(String error) {}

    /** What went wrong, as JSON. */
    static byte[] refusal(String why) {
        return bytes(new Refusal(why));
    }

    /** A record as JSON. */
    static byte[] bytes(Object record) {
        try {
            return MAPPER.writeValueAsBytes(record);
        } catch (JacksonException e) {
            throw new IllegalStateException("a record cannot be written as JSON", e);
        }
    }

    /**
     * Reads a record.
     *
     * @throws BadInputException if it is no JSON, or not of this shape
     */
    static <T> T read(byte[] body, Class<T> type) throws BadInputException {
        try {
            T value = MAPPER.readValue(body, type);
            if (value == null) {
                throw new BadInputException("the request holds null; send a JSON object");
            }
            return value;
        } catch (IOException e) {
            throw objection(e);
        }
    }

    /**
     * What a record becomes when the keys of a request replace its values; null takes a value away.
     *
     * @throws BadInputException if the request is no JSON object, or does not fit the record
     */
    static <T> T changed(T before, byte[] body, Class<T> type) throws BadInputException {
        try {
            JsonNode request = MAPPER.readTree(body);
            if (!(request instanceof ObjectNode given)) {
                throw new BadInputException("the request is no JSON object; send the values that change");
            }
            ObjectNode all = MAPPER.valueToTree(before);
            all.setAll(given);
            return MAPPER.treeToValue(all, type);
        } catch (IOException e) {
            throw objection(e);
        }
    }

    private static BadInputException objection(IOException e) {
        if (e instanceof UnrecognizedPropertyException unknown) {
            return new BadInputException(
                    "the request holds the key '" + unknown.getPropertyName() + "', which does not belong there; it may"
                            + " hold " + unknown.getKnownPropertyIds(),
                    e);
        }
        if (e instanceof MismatchedInputException mismatch
                && !mismatch.getPath().isEmpty()) {
            return new BadInputException(
                    "the request holds something else for '" + place(mismatch) + "' than it may hold: "
                            + firstLine(mismatch.getOriginalMessage()),
                    e);
        }
        String why = e instanceof JacksonException j ? j.getOriginalMessage() : String.valueOf(e.getMessage());
        return new BadInputException("the request cannot be understood: " + firstLine(why), e);
    }

    private static String place(MismatchedInputException e) {
        return e.getPath().stream()
                .map(r -> r.getFieldName() == null ? "[" + r.getIndex() + "]" : r.getFieldName())
                .collect(Collectors.joining("."));
    }

    /** The first line of what the library says, without names of Java. */
    private static String firstLine(String text) {
        return text.lines()
                .findFirst()
                .orElse("")
                .replaceAll(" \\((but might|bound as|through reference chain).*", "")
                .replaceAll(
                        "`?\\b(java\\.lang|ohmprint|com\\.fasterxml)\\.([a-z]+\\.)*([A-Za-z]+\\$)*([A-Za-z]+)`?", "$4");
    }

    // Objects that the command line prints too, with what only the page shows of them.

    private static JsonObject take(TakeReport report) {
        return RecordingJson.take(new JsonObject(), report, MeasurementJson::finding)
                .put("compared_to", report.comparedTo());
    }

    private static JsonObject level(LevelReport report) {
        LevelReport.Predicted predicted = report.predicted();
        return RecordingJson.level(new JsonObject(), report, MeasurementJson::finding)
                .put("predicted_expected_ohm", predicted == null ? null : (Object) predicted.expectedOhm());
    }

    private static JsonObject format(DeviceList.Format format) {
        return RecordingJson.format(format).put("words", format.words());
    }

    /** What a load does, with loss and change of response per band in columns. */
    private static JsonObject effect(LoadControl.Effect effect) {
        LoadPrediction p = effect.prediction();
        return MatchJson.prediction(p)
                .put("tilt_hz", p.tilt().hz())
                .put("ein", effect.ein())
                .list("frequency_hz", p.losses(), PredictedValue::hz)
                .list("loss_db", p.losses(), PredictedValue::value)
                .list("loss_u95_db", p.losses(), PredictedValue::u95)
                .list("loss_low_db", p.losses(), PredictedValue::low)
                .list("loss_high_db", p.losses(), PredictedValue::high)
                .list("change_db", p.changes(), PredictedValue::value)
                .list("change_u95_db", p.changes(), PredictedValue::u95);
    }

    private static JsonObject inputs(MatchOutcome outcome) {
        return MatchJson.asked(new JsonObject().list("inputs", outcome.inputs(), MatchJson::input), outcome)
                .put("ein_source_ohm", MatchRequest.Electronics.USUAL_EIN_SOURCE_OHM);
    }

    /** What {@code check} prints, beside it what was found for each requirement in words, and findings of the measurement. */
    private static JsonObject check(CheckOutcome outcome) {
        return new JsonObject()
                .raw("check", outcome.json())
                .list("found", outcome.requirements(), RequirementVerdict::findings)
                .list("findings", outcome.findings(), MeasurementJson::finding);
    }

    /** Objects of the package {@code json} in the place of records. */
    private static final class ObjectModule extends SimpleModule {
        private static final long serialVersionUID = 1;

        /** Writes a record as an object. */
        <T> ObjectModule with(Class<T> type, Function<T, JsonObject> object) {
            addSerializer(type, new JsonSerializer<>() {
                @Override
                public void serialize(T record, JsonGenerator json, SerializerProvider all) throws IOException {
                    object.apply(record).write(json);
                }
            });
            return this;
        }
    }

    // Names and order of keys where they are others than in Java.

    private interface RecorderNames {
        @JsonProperty("do")
        String action();
    }

    @JsonPropertyOrder({"library", "total", "entries"})
    private interface EntryListNames {}

    private interface NotedNames {
        @JsonProperty("new")
        boolean fresh();
    }

    private static void number(JsonGenerator json, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumber(value);
        } else {
            json.writeNull();
        }
    }

    private static final class Numbers extends JsonSerializer<Double> {
        @Override
        public void serialize(Double value, JsonGenerator json, SerializerProvider all) throws IOException {
            number(json, value);
        }
    }

    private static final class Arrays extends JsonSerializer<double[]> {
        @Override
        public void serialize(double[] values, JsonGenerator json, SerializerProvider all) throws IOException {
            json.writeStartArray();
            for (double value : values) {
                number(json, value);
            }
            json.writeEndArray();
        }
    }

    private static final class OhmsWriter extends JsonSerializer<ResistanceValue> {
        @Override
        public void serialize(ResistanceValue ohms, JsonGenerator json, SerializerProvider all) throws IOException {
            if (Double.isInfinite(ohms.value())) {
                json.writeString("open");
            } else if (Double.isNaN(ohms.value())) {
                json.writeString("unknown");
            } else {
                json.writeNumber(ohms.value());
            }
        }
    }

    private static final class OhmsReader extends JsonDeserializer<ResistanceValue> {
        @Override
        public ResistanceValue deserialize(JsonParser json, DeserializationContext context) throws IOException {
            if (json.currentToken().isNumeric()) {
                return new ResistanceValue(json.getDoubleValue());
            }
            String text = json.currentToken() == JsonToken.VALUE_STRING ? json.getText() : "";
            return switch (text) {
                case "open" -> new ResistanceValue(Double.POSITIVE_INFINITY);
                case "unknown" -> new ResistanceValue(Double.NaN);
                default ->
                    // said without the names of classes and methods that the library would put in front of it
                    throw MismatchedInputException.from(
                            json, ResistanceValue.class, "a resistance is a number of ohms, \"open\" or \"unknown\"");
            };
        }
    }
}
