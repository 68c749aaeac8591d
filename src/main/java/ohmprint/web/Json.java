package ohmprint.web;

import com.fasterxml.jackson.annotation.JsonProperty;
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
import java.io.IOException;
import java.util.stream.Collectors;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.MatchView;
import ohmprint.app.workspace.Ohms;
import ohmprint.app.workspace.RecorderForm;
import ohmprint.curve.PredictedValue;

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
            .addMixIn(MatchView.class, MatchNames.class)
            .addMixIn(RecorderForm.class, RecorderNames.class)
            .addModule(new SimpleModule()
                    .addSerializer(double.class, new Numbers())
                    .addSerializer(Double.class, new Numbers())
                    .addSerializer(double[].class, new Arrays())
                    .addSerializer(Ohms.class, new OhmsWriter())
                    .addDeserializer(Ohms.class, new OhmsReader()))
            .build();

    private Json() {}

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
                .replaceAll("`?\\b(java\\.lang|ohmprint|com\\.fasterxml)\\.([a-z]+\\.)*([A-Za-z$]+)`?", "$3");
    }

    /** Names that do not follow from those in Java. */
    private interface MatchNames {
        @JsonProperty("loss_at_1k")
        PredictedValue lossAtReference();
    }

    /** A name that Java keeps for itself. */
    private interface RecorderNames {
        @JsonProperty("do")
        String action();
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

    private static final class OhmsWriter extends JsonSerializer<Ohms> {
        @Override
        public void serialize(Ohms ohms, JsonGenerator json, SerializerProvider all) throws IOException {
            if (ohms.isOpen()) {
                json.writeString("open");
            } else if (ohms.isUnknown()) {
                json.writeString("unknown");
            } else {
                json.writeNumber(ohms.value());
            }
        }
    }

    private static final class OhmsReader extends JsonDeserializer<Ohms> {
        @Override
        public Ohms deserialize(JsonParser json, DeserializationContext context) throws IOException {
            if (json.currentToken().isNumeric()) {
                return new Ohms(json.getDoubleValue());
            }
            String text = json.currentToken() == JsonToken.VALUE_STRING ? json.getText() : "";
            return switch (text) {
                case "open" -> new Ohms(Double.POSITIVE_INFINITY);
                case "unknown" -> new Ohms(Double.NaN);
                default ->
                    throw context.weirdStringException(
                            text, Ohms.class, "a resistance is a number of ohms, \"open\" or \"unknown\"");
            };
        }
    }
}
