package ohmprint.exchange;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.List;
import ohmprint.conformity.BandCheck;
import ohmprint.conformity.FaultPatterns.PossibleCause;
import ohmprint.conformity.Limits.Side;
import ohmprint.conformity.PeakCheck;
import ohmprint.conformity.RequirementVerdict;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Verdict;
import ohmprint.impedance.Measurement;

/**
 * A verdict as a JSON object: {@code verdict}, {@code specification}, {@code microphone}, {@code reasons}, {@code notes},
 * {@code requirements} each with its {@code checks} or its {@code peak}, and {@code possible_causes}. {@code null} stands
 * for what does not exist, for no limit and for an open bound.
 */
public final class VerdictJson {
    /** Value of {@code format}. */
    public static final String FORMAT = "ohmprint-check";

    private static final int VERSION = 1;

    private final JsonGenerator json;

    private VerdictJson(JsonGenerator json) {
        this.json = json;
    }

    /**
     * One line of JSON without its end.
     *
     * @param specification what was required
     * @param measurement what was checked
     * @param verdict the answer
     * @param causes what may be behind it
     */
    public static String write(
            Specification specification, Measurement measurement, Verdict verdict, List<PossibleCause> causes) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            new VerdictJson(json).all(specification, measurement, verdict, causes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private void all(Specification specification, Measurement measurement, Verdict verdict, List<PossibleCause> causes)
            throws IOException {
        json.writeStartObject();
        json.writeStringField("format", FORMAT);
        json.writeNumberField("version", VERSION);
        json.writeStringField("verdict", verdict.conformity().word());
        json.writeStringField("specification", specification.name());
        json.writeStringField("microphone", measurement.microphone().label());
        json.writeStringField(
                "computed_at", measurement.provenance().computedAt().toString());
        texts("reasons", verdict.reasons());
        texts("notes", verdict.notes());
        json.writeArrayFieldStart("requirements");
        for (RequirementVerdict requirement : verdict.requirements()) {
            requirement(requirement);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("possible_causes");
        for (PossibleCause cause : causes) {
            json.writeStartObject();
            json.writeStringField("pattern", cause.pattern());
            json.writeStringField("cause", cause.cause());
            json.writeStringField("confirm", cause.confirm());
            json.writeStringField("caution", cause.caution());
            json.writeStringField("source", "common practice");
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void requirement(RequirementVerdict requirement) throws IOException {
        json.writeStartObject();
        json.writeStringField("kind", requirement.kind().word());
        json.writeStringField("requires", requirement.words());
        json.writeStringField("verdict", requirement.conformity().word());
        texts("reasons", requirement.reasons());
        PeakCheck peak = requirement.peak();
        if (peak != null) {
            json.writeObjectFieldStart("peak");
            number("from_hz", peak.window().fromHz());
            number("to_hz", peak.window().toHz());
            number("peak_hz", peak.peakHz());
            number("earliest_hz", peak.earliestHz());
            number("latest_hz", peak.latestHz());
            number("peak_ohm", peak.peakOhm());
            json.writeEndObject();
        } else {
            json.writeArrayFieldStart("checks");
            for (BandCheck check : requirement.checks()) {
                check(check);
            }
            json.writeEndArray();
        }
        json.writeEndObject();
    }

    private void check(BandCheck check) throws IOException {
        Side side = check.side();
        json.writeStartObject();
        number("frequency_hz", check.hz());
        json.writeStringField("status", check.status().word());
        json.writeBooleanField("interpolated", check.interpolated());
        number("magnitude_ohm", check.ohm());
        number("magnitude_u95_ohm", check.u95Ohm());
        number("magnitude_low_ohm", check.boundLowOhm());
        number("magnitude_high_ohm", check.boundHighOhm());
        number("min_ohm", check.limits().hasLow() ? check.limits().lowOhm() : Double.NaN);
        number("max_ohm", check.limits().highOhm());
        number("guard_ohm", check.guardOhm());
        number("conformance_probability", check.probability());
        json.writeStringField("verdict", check.conformity().word());
        json.writeStringField("side", side == null ? null : side.word());
        number("beyond_ohm", check.beyondOhm());
        number("beyond_percent", check.beyondPercent());
        json.writeEndObject();
    }

    private void texts(String key, List<String> values) throws IOException {
        json.writeArrayFieldStart(key);
        for (String value : values) {
            json.writeString(value);
        }
        json.writeEndArray();
    }

    private void number(String key, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumberField(key, value);
        } else {
            json.writeNullField(key);
        }
    }
}
