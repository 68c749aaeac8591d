package ohmprint.exchange;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.curve.ChiSquare;
import ohmprint.curve.Consistency;
import ohmprint.curve.Consistency.Octave;
import org.jspecify.annotations.Nullable;

/**
 * The object {@code consistency}: {@code takes} and {@code entered}, each {@code {chi_square, degrees_of_freedom, p_value}} or
 * null, {@code octaves} with the lists {@code frequency_hz}, {@code chi_square} and {@code degrees_of_freedom}, {@code fit_set_aside},
 * and {@code bands} with the lists {@code chi_square}, {@code degrees_of_freedom} and {@code p_value}, one entry per band
 * on one line, null where the band was not fitted.
 */
final class ConsistencyJson {
    /** Its key. */
    static final String KEY = "consistency";

    private static final String SUM = "chi_square";
    private static final String FREEDOM = "degrees_of_freedom";
    private static final String CHANCE = "p_value";
    private static final String OCTAVES = "octaves";
    private static final String HZ = "frequency_hz";
    private static final String SET_ASIDE = "fit_set_aside";

    private ConsistencyJson() {}

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
        CovarianceJson.numbers(json, HZ, octaves.size(), o -> octaves.get(o).frequencyHz());
        CovarianceJson.numbers(
                json, SUM, octaves.size(), o -> octaves.get(o).left().value());
        CovarianceJson.numbers(
                json, FREEDOM, octaves.size(), o -> octaves.get(o).left().freedom());
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
            JsonGenerator json, String key, List<? extends @Nullable ChiSquare> bands, ToDoubleFunction<ChiSquare> part)
            throws IOException {
        CovarianceJson.numbers(json, key, bands.size(), b -> {
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
