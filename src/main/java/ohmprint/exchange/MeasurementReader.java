package ohmprint.exchange;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.Finding;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.ImpedanceOutline;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.PlaneCovariance;
import org.jspecify.annotations.Nullable;

/** Reads the JSON object that {@link CurveJson} writes. */
final class MeasurementReader {
    private static final String[] CAUSES = {"noise_ohm", "drift_ohm", "loads_ohm", "input_ohm", "timing_ohm"};

    /** How the quantity of an input begins. */
    static final String INPUT = "input impedance";

    private MeasurementReader() {}

    static Measurement read(String text, String name) throws ExchangeException {
        JsonPlace top = parse(text, name);
        if (!top.node().isObject()
                || !CurveJson.FORMAT.equals(top.node().path("format").textValue())) {
            throw new ExchangeException(name + ": no \"format\": \"" + CurveJson.FORMAT
                    + "\"; use a curve.json as written by this program");
        }
        int version = top.integer("version");
        if (version != CurveJson.VERSION) {
            throw new ExchangeException(name + ": version " + version + " of the format, this program reads version "
                    + CurveJson.VERSION + "; use a newer program");
        }
        top.withKeys(
                List.of(CovarianceJson.KEY, ConsistencyJson.KEY, CurveJson.FILES),
                "format",
                "version",
                "quantity",
                "parallel_with_input",
                "microphone",
                "bands_per_octave",
                "route",
                "route_reason",
                "verdict",
                "findings",
                "bands",
                "budget",
                "provenance");
        ImpedanceCurve curve = curve(top, name);
        if (!curve.quantity().equals(top.text("quantity"))) {
            throw new ExchangeException(name + ": quantity \"" + top.text("quantity")
                    + "\" contradicts parallel_with_input " + curve.parallelWithInput() + "; correct one of them");
        }
        return new Measurement(
                microphone(top.at("microphone")),
                curve,
                Words.route(top.text("route"), name + ".route"),
                top.text("route_reason"),
                Words.verdict(top.text("verdict"), name + ".verdict"),
                findings(top),
                ProvenanceReader.read(top.at("provenance")));
    }

    private static JsonPlace parse(String text, String name) throws ExchangeException {
        JsonMapper mapper = JsonMapper.builder()
                .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
                .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
                .build();
        try {
            JsonNode tree = mapper.readTree(text);
            return new JsonPlace(tree, name);
        } catch (JsonProcessingException e) {
            String line =
                    e.getLocation() == null ? "" : ", line " + e.getLocation().getLineNr();
            throw new ExchangeException(
                    name + line + ": " + e.getOriginalMessage() + "; use a curve.json as written by this program", e);
        }
    }

    private static ImpedanceCurve curve(JsonPlace top, String name) throws ExchangeException {
        List<JsonPlace> places = top.list("bands");
        if (places.isEmpty()) {
            throw new ExchangeException(name + ".bands: empty; a curve has at least one band");
        }
        List<BandValue> values = new ArrayList<>();
        for (JsonPlace place : places) {
            values.add(band(place));
        }
        budgetAgrees(top, values);
        double[] midbands = values.stream().mapToDouble(BandValue::frequencyHz).toArray();
        FrequencyBands bands = Grid.spanning(top.integer("bands_per_octave"), midbands, name + ".bands");
        try {
            ImpedanceCurve curve = new ImpedanceCurve(bands, values, top.flag("parallel_with_input"));
            return new ImpedanceCurve(
                    bands,
                    values,
                    curve.parallelWithInput(),
                    CovarianceJson.read(top, curve),
                    top.text("quantity").startsWith(INPUT) ? ImpedanceCurve.Side.INPUT : ImpedanceCurve.Side.SOURCE,
                    ConsistencyJson.read(top, bands.size()));
        } catch (IllegalArgumentException e) {
            throw new ExchangeException(name + ".bands: " + e.getMessage() + "; give every band of the range", e);
        }
    }

    private static BandValue band(JsonPlace p) throws ExchangeException {
        p.withKeys(
                List.of("u95_by_draws", "outline"),
                "frequency_hz",
                "status",
                "magnitude_ohm",
                "phase_deg",
                "resistance_ohm",
                "reactance_ohm",
                "magnitude_u95_ohm",
                "phase_u95_deg",
                "snr_db",
                "magnitude_low_ohm",
                "magnitude_high_ohm",
                "covariance",
                "budget");
        BandStatus status = Words.status(p.text("status"), p.place() + ".status");
        if (status == BandStatus.MEASURED) {
            p.requiredNumber("magnitude_ohm");
        }
        if (status == BandStatus.INTERVAL) {
            p.requiredNumber("magnitude_low_ohm");
        }
        JsonPlace covariance = p.at("covariance");
        JsonPlace budget = p.at("budget");
        return new BandValue(
                p.hertz("frequency_hz"),
                status,
                p.ohms("resistance_ohm"),
                p.ohms("reactance_ohm"),
                p.magnitude("magnitude_ohm"),
                Math.toRadians(p.number("phase_deg")),
                p.ohms("magnitude_u95_ohm"),
                Math.toRadians(p.number("phase_u95_deg")),
                p.ohms("magnitude_low_ohm"),
                p.ohms("magnitude_high_ohm"),
                p.number("snr_db"),
                covariance.isNull() ? null : covariance(covariance),
                budget.isNull() ? null : causes(budget.withKeys(CAUSES)),
                p.has("u95_by_draws") && p.flag("u95_by_draws"),
                p.has("outline") ? outline(p.at("outline")) : null);
    }

    private static ImpedanceOutline outline(JsonPlace p) throws ExchangeException {
        p.withKeys("resistance_ohm", "magnitude_ohm");
        int points = p.list("resistance_ohm").size();
        try {
            return new ImpedanceOutline(
                    Arrays.stream(p.numbers("resistance_ohm", points)).boxed().toList(),
                    Arrays.stream(p.numbers("magnitude_ohm", points)).boxed().toList());
        } catch (IllegalArgumentException e) {
            throw new ExchangeException(p.place() + ": " + e.getMessage(), e);
        }
    }

    private static PlaneCovariance covariance(JsonPlace p) throws ExchangeException {
        p.withKeys("var_r", "var_x", "cov_rx");
        return new PlaneCovariance(p.requiredNumber("var_r"), p.requiredNumber("var_x"), p.requiredNumber("cov_rx"));
    }

    private static BandBudget causes(JsonPlace p) throws ExchangeException {
        return new BandBudget(
                p.number("noise_ohm"),
                p.number("drift_ohm"),
                p.number("loads_ohm"),
                p.number("input_ohm"),
                p.number("timing_ohm"));
    }

    /** The list at the top repeats what the bands hold; a file in which the two differ was edited by hand. */
    private static void budgetAgrees(JsonPlace top, List<BandValue> values) throws ExchangeException {
        List<BandValue> expected =
                values.stream().filter(v -> v.budget() != null).toList();
        List<JsonPlace> list = top.list("budget");
        boolean same = list.size() == expected.size();
        for (int i = 0; same && i < expected.size(); i++) {
            JsonPlace p = list.get(i);
            same = p.requiredNumber("frequency_hz") == expected.get(i).frequencyHz()
                    && causes(p).equals(expected.get(i).budget());
        }
        if (!same) {
            throw new ExchangeException(
                    top.place() + ".budget: differs from the budgets inside bands; restore the file as it was written");
        }
    }

    private static Microphone microphone(JsonPlace p) throws ExchangeException {
        p.withKeys(
                "label",
                "maker",
                "model",
                "serial",
                "transducer",
                "rated_impedance_ohm",
                "rated_minimum_load_ohm",
                "notes");
        return new Microphone(
                p.text("label"),
                p.textOrNull("maker"),
                p.textOrNull("model"),
                p.textOrNull("serial"),
                p.textOrNull("transducer"),
                numberOrNull(p, "rated_impedance_ohm"),
                numberOrNull(p, "rated_minimum_load_ohm"),
                p.textOrNull("notes"));
    }

    private static @Nullable Double numberOrNull(JsonPlace p, String key) throws ExchangeException {
        double value = p.number(key);
        return Double.isNaN(value) ? null : Double.valueOf(value);
    }

    private static List<Finding> findings(JsonPlace top) throws ExchangeException {
        List<Finding> findings = new ArrayList<>();
        for (JsonPlace p : top.list("findings")) {
            p.withKeys("code", "take", "message");
            findings.add(new Finding(
                    Words.code(p.text("code"), p.place() + ".code"), p.textOrNull("take"), p.text("message")));
        }
        return findings;
    }
}
