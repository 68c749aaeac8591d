package ohmprint.exchange;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import com.fasterxml.jackson.core.util.Separators;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.Finding;
import ohmprint.curve.ImpedanceOutline;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.Provenance;
import ohmprint.curve.Provenance.FileOrigin;
import ohmprint.curve.Provenance.TakeOrigin;
import ohmprint.curve.Usability;
import org.jspecify.annotations.Nullable;

/** A whole measurement as a JSON object; keys as described for the package. */
public final class CurveJson {
    /** Value of {@code format}. */
    public static final String FORMAT = "ohmprint-curve";

    /** Value of {@code version}. */
    public static final int VERSION = 1;

    private static final JsonFactory FACTORY = JsonFactory.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private CurveJson() {}

    /** Key of the files that lie beside it, with the SHA-256 of each. */
    static final String FILES = "files";

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
        return MeasurementReader.read(text, name);
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
        Map<String, String> told = new HashMap<>();
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
        if (!FORMAT.equals(told.get("format"))
                || !String.valueOf(VERSION).equals(told.get("version"))
                || told.getOrDefault("quantity", "").startsWith(MeasurementReader.INPUT)) {
            throw new ExchangeException(
                    name + ": no impedance of a microphone; use a curve.json as written by this program");
        }
        return Words.verdict(told.getOrDefault("verdict", ""), name + ".verdict");
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
            CovarianceJson.write(json, m.curve().covariance());
            ConsistencyJson.write(json, m.curve().consistency());
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
                CovarianceJson.numbers(json, "resistance_ohm", points, outline.resistanceOhm()::get);
                CovarianceJson.numbers(json, "magnitude_ohm", points, outline.magnitudeOhm()::get);
                json.writeEndObject();
            }
            json.writeEndObject();
        }

        private void causes(BandBudget b) throws IOException {
            number("noise_ohm", b.noise());
            number("drift_ohm", b.drift());
            number("loads_ohm", b.loads());
            number("input_ohm", b.input());
            number("timing_ohm", b.timing());
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
}
