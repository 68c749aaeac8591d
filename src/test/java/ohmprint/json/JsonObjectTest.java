package ohmprint.json;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

/** JSON as programs get it, by RFC 8259: one line, keys in their order, null for what is not there. */
class JsonObjectTest {
    private static String printed(Object value) {
        StringWriter out = new StringWriter();
        JsonObject.print(value, new PrintWriter(out));
        return out.toString();
    }

    private static String printed(JsonObject json) {
        return printed((Object) json);
    }

    @Test
    void keysKeepTheirOrderOnOneLine() {
        JsonObject json = new JsonObject()
                .put("z", "two\nlines and \"quotes\"")
                .put("a", true)
                .put("file", Path.of("x", "curve.csv"))
                .put("at", Instant.EPOCH);
        assertThat(printed(json))
                .isEqualTo("{\"z\":\"two\\nlines and \\\"quotes\\\"\",\"a\":true,\"file\":\"x/curve.csv\","
                        + "\"at\":\"1970-01-01T00:00:00Z\"}" + System.lineSeparator());
    }

    @Test
    void whatIsNotThereOrNotFiniteIsNull() {
        JsonObject json = new JsonObject()
                .put("none", null)
                .put("unknown", Double.NaN)
                .number("endless", Double.POSITIVE_INFINITY)
                .put("below", Double.NEGATIVE_INFINITY);
        assertThat(printed(json).strip()).isEqualTo("{\"none\":null,\"unknown\":null,\"endless\":null,\"below\":null}");
    }

    @Test
    void aNumberHasAPointUnlessItIsAskedForWithout() {
        JsonObject json = new JsonObject()
                .put("load_ohm", 1500.0)
                .number("ohm", 1500.0)
                .number("share", 0.5)
                .number("far", 1e18);
        assertThat(printed(json).strip()).isEqualTo("{\"load_ohm\":1500.0,\"ohm\":1500,\"share\":0.5,\"far\":1.0E18}");
    }

    @Test
    void listsAndObjectsNestAndWhatIsJsonAlreadyStaysAsItIs() {
        JsonObject json = new JsonObject()
                .list("loads", List.of(1, 2), n -> new JsonObject().put("n", n))
                .raw("curve", "{\"x\": 1}");
        assertThat(printed(json).strip()).isEqualTo("{\"loads\":[{\"n\":1},{\"n\":2}],\"curve\":{\"x\": 1}}");
        assertThat(printed(List.of("a", "b")).strip()).isEqualTo("[\"a\",\"b\"]");
    }
}
