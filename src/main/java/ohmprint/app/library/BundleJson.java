package ohmprint.app.library;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.StringWriter;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.Version;
import ohmprint.library.KeptSpecification;
import ohmprint.library.Link;

/** {@code bundle.json}, version 1. */
final class BundleJson {
    private static final String FORMAT = "ohmprint-bundle";
    private static final int VERSION = 1;
    private static final String NEXT = "; ask for the bundle once more";

    private BundleJson() {}

    static String write(BundleContent content) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.useDefaultPrettyPrinter();
            json.writeStartObject();
            json.writeStringField("format", FORMAT);
            json.writeNumberField("version", VERSION);
            json.writeStringField("program_version", Version.current());
            json.writeArrayFieldStart("measurements");
            for (BundleContent.Item item : content.measurements()) {
                json.writeStartObject();
                json.writeStringField("id", item.id());
                json.writeStringField("sha256", item.sha256());
                json.writeStringField("operator", item.operator());
                json.writeStringField("note", item.note());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("links");
            for (Link link : content.links()) {
                json.writeStartObject();
                json.writeStringField("kind", link.kind().name().toLowerCase(Locale.ROOT));
                json.writeStringField("from", link.from());
                json.writeStringField("to", link.to());
                json.writeStringField("words", link.words());
                json.writeStringField("by", link.by());
                json.writeStringField("at", link.at().toString());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("specifications");
            for (KeptSpecification s : content.specifications()) {
                json.writeStartObject();
                json.writeStringField("name", s.name());
                json.writeStringField("sha256", s.sha256());
                json.writeStringField("by", s.by());
                json.writeStringField("at", s.at().toString());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        return text.append('\n').toString();
    }

    /** Reads it; the texts of specifications are empty until their files are read. */
    static BundleContent read(String text, String name) throws BadInputException {
        try {
            JsonNode top = JsonMapper.builder()
                    .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                    .build()
                    .readTree(text);
            if (!FORMAT.equals(top.path("format").textValue())) {
                throw new BadInputException(
                        name + " is no bundle of this program: its bundle.json is another's" + NEXT);
            }
            if (top.path("version").intValue() != VERSION) {
                throw new BadInputException(name + " is a bundle of version " + top.path("version")
                        + ", this program reads version " + VERSION + "; use a newer program");
            }
            return new BundleContent(items(top), links(top), specifications(top));
        } catch (JsonProcessingException | DateTimeException | IllegalArgumentException e) {
            throw new BadInputException(name + " is damaged: its bundle.json cannot be understood" + NEXT, e);
        }
    }

    private static List<BundleContent.Item> items(JsonNode top) {
        List<BundleContent.Item> items = new ArrayList<>();
        for (JsonNode n : list(top, "measurements")) {
            JsonNode note = n.path("note");
            items.add(new BundleContent.Item(
                    text(n, "id"), text(n, "sha256"), text(n, "operator"), note.isTextual() ? note.textValue() : null));
        }
        return items;
    }

    private static List<Link> links(JsonNode top) {
        List<Link> links = new ArrayList<>();
        for (JsonNode n : list(top, "links")) {
            links.add(new Link(
                    Link.Kind.valueOf(text(n, "kind").toUpperCase(Locale.ROOT)),
                    text(n, "from"),
                    text(n, "to"),
                    text(n, "words"),
                    text(n, "by"),
                    Instant.parse(text(n, "at"))));
        }
        return links;
    }

    private static List<KeptSpecification> specifications(JsonNode top) {
        List<KeptSpecification> specifications = new ArrayList<>();
        for (JsonNode n : list(top, "specifications")) {
            specifications.add(new KeptSpecification(
                    text(n, "name"), 1, text(n, "sha256"), "", text(n, "by"), Instant.parse(text(n, "at"))));
        }
        return specifications;
    }

    private static JsonNode list(JsonNode top, String key) {
        JsonNode list = top.path(key);
        if (!list.isArray()) {
            throw new IllegalArgumentException(key + " is no list");
        }
        return list;
    }

    private static String text(JsonNode node, String key) {
        JsonNode value = node.path(key);
        if (!value.isTextual()) {
            throw new IllegalArgumentException(key + " is no text");
        }
        return value.textValue();
    }
}
