package ohmprint.json;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * A JSON object for a program, put together key by key. Null stands for what does not exist and for numbers that are not
 * finite; what is no number, truth value, list or object is written as its text.
 */
public final class JsonObject {
    private final Map<String, @Nullable Object> fields = new LinkedHashMap<>();

    /** Adds a value. */
    public JsonObject put(String key, @Nullable Object value) {
        fields.put(key, value);
        return this;
    }

    /** Adds a number, without a point when it is whole. */
    public JsonObject number(String key, double value) {
        return put(key, number(value));
    }

    /** A number, without a point when it is whole. */
    static Object number(double value) {
        boolean whole = value == Math.rint(value) && Math.abs(value) < 1e15;
        return whole ? (Object) (long) value : (Object) value;
    }

    /** Adds a list. */
    public <T> JsonObject list(String key, Collection<T> items, Function<T, ?> each) {
        return put(key, list(items, each));
    }

    /** A list. */
    public static <T> List<Object> list(Collection<T> items, Function<T, ?> each) {
        List<Object> out = new ArrayList<>();
        items.forEach(item -> out.add(each.apply(item)));
        return out;
    }

    /** Adds what is JSON already. */
    public JsonObject raw(String key, String json) {
        return put(key, new Raw(json));
    }

    private record Raw(String json) {}

    /** Prints it on one line. */
    public void print(PrintWriter out) {
        print(this, out);
    }

    /** Prints an object, a list or a value on one line. */
    public static void print(Object value, PrintWriter out) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            write(value, json);
        } catch (IOException e) {
            throw new IllegalStateException("writing to memory cannot fail", e);
        }
        out.println(text);
    }

    /** Writes it in the place where a generator stands. */
    public void write(JsonGenerator json) throws IOException {
        write(this, json);
    }

    private static void write(@Nullable Object value, JsonGenerator json) throws IOException {
        if (value instanceof JsonObject object) {
            json.writeStartObject();
            for (Map.Entry<String, @Nullable Object> field : object.fields.entrySet()) {
                json.writeFieldName(field.getKey());
                write(field.getValue(), json);
            }
            json.writeEndObject();
        } else if (value instanceof Collection<?> items) {
            json.writeStartArray();
            for (Object item : items) {
                write(item, json);
            }
            json.writeEndArray();
        } else if (value instanceof Raw raw) {
            json.writeRawValue(raw.json());
        } else if (value == null || (value instanceof Double number && !Double.isFinite(number))) {
            json.writeNull();
        } else if (value instanceof Double number) {
            json.writeNumber(number);
        } else if (value instanceof Number number) {
            json.writeNumber(number.longValue());
        } else if (value instanceof Boolean truth) {
            json.writeBoolean(truth);
        } else {
            json.writeString(value.toString());
        }
    }
}
