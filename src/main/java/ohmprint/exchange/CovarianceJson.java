package ohmprint.exchange;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.StringJoiner;
import java.util.function.IntToDoubleFunction;
import ohmprint.curve.BandValue;
import ohmprint.curve.CurveCovariance;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.SharedCause;
import org.jspecify.annotations.Nullable;

/**
 * The object {@code covariance_across_bands}: {@code noise} with the lists {@code var_r}, {@code var_x}, {@code cov_rx},
 * and the list {@code causes} of {@code {name, origin, dr_ohm, dx_ohm}}; every list of numbers has one entry per band,
 * null where the band holds no value, and stands on one line.
 */
final class CovarianceJson {
    /** Its key. */
    static final String KEY = "covariance_across_bands";

    /** Disagreement with the covariance inside the bands, relative to the variances, that rounding may cause. */
    private static final double ROUNDING = 1e-6;

    private CovarianceJson() {}

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

    static void numbers(JsonGenerator json, String key, int count, IntToDoubleFunction value) throws IOException {
        StringJoiner line = new StringJoiner(", ", "[", "]");
        for (int i = 0; i < count; i++) {
            double v = value.applyAsDouble(i);
            line.add(Double.isFinite(v) ? Numbers.shortest(v) : "null");
        }
        json.writeFieldName(key);
        json.writeRawValue(line.toString());
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
                    Words.origin(c.text("origin"), c.place() + ".origin"),
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
            boolean same = (stated == null || summed == null) ? Objects.equals(stated, summed) : near(stated, summed);
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
