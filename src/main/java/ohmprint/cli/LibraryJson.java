package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import ohmprint.library.Entry;
import org.jspecify.annotations.Nullable;

/** Measurements of the library for a program. */
final class LibraryJson {
    private LibraryJson() {}

    /** Writes some JSON. */
    @FunctionalInterface
    interface Content {
        void write(JsonGenerator json) throws IOException;
    }

    /** Prints JSON on one line. */
    static void print(PrintWriter out, Content content) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            content.write(json);
        }
        out.println(text);
    }

    /** An object for an entry, not yet closed, so that more can follow. */
    static void open(JsonGenerator json, Entry e) throws IOException {
        json.writeStartObject();
        json.writeStringField("id", e.id());
        json.writeStringField("label", e.label());
        json.writeStringField("measured_at", e.measuredAt().toString());
        json.writeStringField("maker", e.maker());
        json.writeStringField("model", e.model());
        json.writeStringField("serial", e.serial());
        json.writeStringField("transducer", e.transducer());
        number(json, "ohm_at_1khz", e.ohmAt1kHz());
        json.writeBooleanField("parallel_with_input", e.parallelWithInput());
        json.writeStringField("route", e.route());
        json.writeStringField("verdict", e.verdict());
        json.writeArrayFieldStart("findings");
        for (String code : e.findings().isEmpty() ? new String[0] : e.findings().split(" ", -1)) {
            json.writeString(code);
        }
        json.writeEndArray();
        json.writeStringField("operator", e.operator());
        json.writeStringField("note", e.note());
        json.writeStringField("added_at", e.addedAt().toString());
        json.writeStringField("superseded_by", e.supersededBy());
        json.writeStringField("sha256", e.sha256());
    }

    /** A list of entries. */
    static void list(JsonGenerator json, List<Entry> entries) throws IOException {
        json.writeStartArray();
        for (Entry entry : entries) {
            open(json, entry);
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    /** A list of texts under a key. */
    static void texts(JsonGenerator json, String key, List<String> texts) throws IOException {
        json.writeArrayFieldStart(key);
        for (String text : texts) {
            json.writeString(text);
        }
        json.writeEndArray();
    }

    static void number(JsonGenerator json, String key, @Nullable Double value) throws IOException {
        if (value == null || !Double.isFinite(value)) {
            json.writeNullField(key);
        } else {
            json.writeNumberField(key, value);
        }
    }
}
