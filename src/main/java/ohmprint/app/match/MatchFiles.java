package ohmprint.app.match;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.ResultFolder;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.LoadingChart;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PredictedValue;
import ohmprint.text.MinusSign;
import ohmprint.text.Numbers;

/** The files of a match: two tables and two pictures, each of these as SVG and PNG. */
final class MatchFiles {
    /** All names that such a folder may hold. */
    private static final Set<String> NAMES =
            Set.of("inputs.csv", "bands.csv", "inputs.svg", "inputs.png", "variable-load.svg", "variable-load.png");

    private static final String BANDS_HEADER = "set,input,frequency_hz,loss_db,loss_u95_db,loss_low_db,loss_high_db,"
            + "change_db,change_u95_db,change_low_db,change_high_db";

    private static final String INPUTS_HEADER = "set,input,load,load_ohm,worst_loss_db,worst_loss_u95_db,worst_loss_hz,"
            + "loss_1khz_db,loss_1khz_u95_db,tilt_db,tilt_u95_db,largest_change_db,largest_change_u95_db,"
            + "largest_change_hz,least_ratio,least_ratio_u95,least_ratio_hz,ten_times";

    private static final String LEVEL_HEADER = ",level_dbu,level_u95_db,level_mv,needed_gain_db,available_gain_db,"
            + "spare_gain_db,enough,thermal_noise_dbu,noise_dbu,noise_a_dbu,equivalent_noise_db,equivalent_noise_a_db,"
            + "equivalent_noise_a_u95_db,noise_penalty_db";

    private final MatchOutcome outcome;

    private MatchFiles(MatchOutcome outcome) {
        this.outcome = outcome;
    }

    /** Where they go; refuses a folder that holds other things. */
    static ResultFolder folder(Path folder) throws BadInputException, IOException {
        return ResultFolder.at(folder, NAMES, "this command");
    }

    /** Content by file name; without inputs there is no picture of them. */
    static Map<String, byte[]> of(MatchOutcome outcome) {
        MatchFiles files = new MatchFiles(outcome);
        ChartTheme theme = outcome.request().dark() ? ChartTheme.DARK : ChartTheme.LIGHT;
        Map<String, byte[]> out = new LinkedHashMap<>();
        out.put("inputs.csv", ResultFolder.utf8(files.inputsTable()));
        out.put("bands.csv", ResultFolder.utf8(files.bandsTable()));
        if (!outcome.inputs().isEmpty()) {
            put(out, "inputs", LoadingChart.of(files.inputs(), theme));
        }
        put(out, "variable-load", LoadingChart.of(files.family(), theme));
        return out;
    }

    private static void put(Map<String, byte[]> out, String name, LoadingChart chart) {
        out.put(name + ".svg", ResultFolder.utf8(chart.svg()));
        out.put(name + ".png", chart.png());
    }

    private LoadingChart.Data inputs() {
        List<LoadPrediction> shown =
                outcome.inputs().stream().limit(LoadingChart.MOST_LINES).toList();
        int more = outcome.inputs().size() - shown.size();
        return data(
                "What each input leaves of the microphone's voltage",
                false,
                shown,
                more > 0 ? more + " more inputs are in the tables. " : "");
    }

    private LoadingChart.Data family() {
        return data("What a variable load leaves of the microphone's voltage", true, outcome.family(), "");
    }

    private LoadingChart.Data data(String heading, boolean ordered, List<LoadPrediction> shown, String caption) {
        ImpedanceCurve curve = outcome.measurement().curve();
        List<LoadingChart.Line> lines = new ArrayList<>();
        for (LoadPrediction p : shown) {
            String worst = "worst loss " + decibels(p.worstLoss());
            lines.add(new LoadingChart.Line(p.name(), worst + ", tilt " + decibels(p.tilt()), p.losses(), p.changes()));
        }
        List<LoadingChart.Fact> facts = new ArrayList<>();
        facts.add(new LoadingChart.Fact(
                "Ten times the greatest impedance",
                ohms(outcome.tenTimes()) + ", at "
                        + Numbers.briefFrequency(outcome.tenTimes().hz())));
        facts.add(new LoadingChart.Fact(
                "Least load",
                "for a loss of 1\u00A0dB: " + together(outcome.leastForLoss()) + "; for a tilt of 0.5\u00A0dB: "
                        + together(outcome.leastForTilt())));
        Matching.Coverage covered = outcome.coverage();
        facts.add(new LoadingChart.Fact(
                "Measured",
                Numbers.briefFrequency(covered.lowestHz()) + " to " + Numbers.briefFrequency(covered.highestHz())
                        + "; nothing is claimed outside"));
        line().ifPresent(facts::add);
        return new LoadingChart.Data(
                outcome.measurement().microphone().label(),
                heading + (curve.parallelWithInput() ? ", counted from it with its recording input" : ""),
                curve.bands(),
                ordered,
                lines,
                facts,
                caption + "Shaded: 95 %. Tilt is the greatest less the least loss over the bands."
                        + (covered.gaps() > 0 ? " Gaps are rejected bands, about which the curve says nothing." : "")
                        + (covered.bounded() > 0 ? " Boxes are bounds, without a value." : ""));
    }

    /** A number and its unit stay on one line. */
    private static String together(Matching.LeastResistance least) {
        return least(least).replace(" Ω", "\u00A0Ω").replace(" kΩ", "\u00A0kΩ");
    }

    private Optional<LoadingChart.Fact> line() {
        MatchRequest.Line line = outcome.request().line();
        List<String> parts = new ArrayList<>();
        double pf = line.cableMetres() * line.cablePfPerMetre();
        if (pf > 0) {
            parts.add("cable of " + Math.round(pf) + " pF");
        }
        if (line.phantomFeeds()) {
            parts.add("phantom feeds of 13.62\u00A0kΩ");
        }
        return parts.isEmpty()
                ? Optional.empty()
                : Optional.of(new LoadingChart.Fact("Across every load", String.join(", ", parts)));
    }

    // The tables. Numbers have nine digits and a decimal point; what is not determined is empty. A name that
    // holds a comma, a quote or a line end stands in quotes, with quotes doubled.

    /** One row per input and band, the variable load after the inputs. */
    private String bandsTable() {
        StringBuilder out = new StringBuilder(BANDS_HEADER).append('\n');
        outcome.inputs().forEach(p -> bands(out, "input", p));
        outcome.family().forEach(p -> bands(out, "variable", p));
        return out.toString();
    }

    private static void bands(StringBuilder out, String set, LoadPrediction p) {
        for (int i = 0; i < p.losses().size(); i++) {
            PredictedValue loss = p.losses().get(i);
            PredictedValue change = p.changes().get(i);
            row(
                    out,
                    Stream.concat(
                                    Stream.of(set, quoted(p.name())),
                                    numbers(
                                            loss.hz(),
                                            loss.value(),
                                            loss.u95(),
                                            loss.low(),
                                            loss.high(),
                                            change.value(),
                                            change.u95(),
                                            change.low(),
                                            change.high()))
                            .toList());
        }
    }

    /** One row per input, the variable load after the inputs. */
    private String inputsTable() {
        boolean level = outcome.request().sound() != null;
        StringBuilder out = new StringBuilder(INPUTS_HEADER)
                .append(level ? LEVEL_HEADER : "")
                .append('\n');
        outcome.inputs().forEach(p -> input(out, "input", p));
        outcome.chains().forEach(p -> input(out, "chain", p));
        outcome.family().forEach(p -> input(out, "variable", p));
        return out.toString();
    }

    private static void input(StringBuilder out, String set, LoadPrediction p) {
        List<String> cells = new ArrayList<>(List.of(set, quoted(p.name()), quoted(p.load())));
        numbers(
                        p.loadOhm(),
                        p.worstLoss().value(),
                        p.worstLoss().u95(),
                        p.worstLoss().hz(),
                        p.lossAtReference().value(),
                        p.lossAtReference().u95(),
                        p.tilt().value(),
                        p.tilt().u95(),
                        p.largestChange().value(),
                        p.largestChange().u95(),
                        p.largestChange().hz(),
                        p.leastRatio().value(),
                        p.leastRatio().u95(),
                        p.leastRatio().hz())
                .forEach(cells::add);
        cells.add(p.tenTimes().word());
        LevelPrediction l = p.level();
        if (l != null) {
            Double gain = l.availableGainDb();
            numbers(
                            l.levelDbu().value(),
                            l.levelDbu().u95(),
                            l.millivolt().value(),
                            l.neededGainDb().value(),
                            gain == null ? Double.NaN : gain,
                            l.spareGainDb().value())
                    .forEach(cells::add);
            cells.add(l.enough().word());
            numbers(
                            l.thermalDbu().value(),
                            l.totalDbu().value(),
                            l.totalADbu().value(),
                            l.equivalentDb().value(),
                            l.equivalentADb().value(),
                            l.equivalentADb().u95(),
                            l.penaltyDb().value())
                    .forEach(cells::add);
        }
        row(out, cells);
    }

    private static Stream<String> numbers(double... values) {
        return Arrays.stream(values).mapToObj(Numbers::inFile);
    }

    private static void row(StringBuilder out, List<String> cells) {
        out.append(cells.stream().collect(Collectors.joining(","))).append('\n');
    }

    private static String quoted(String text) {
        String line = text.replaceAll("\\R", " ");
        return line.contains(",") || line.contains("\"") ? '"' + line.replace("\"", "\"\"") + '"' : line;
    }

    // Numbers in words, whatever the locale.

    /** {@code 2.38 kΩ}, {@code 2.1 to 2.9 kΩ}, {@code not determined}. */
    private static String ohms(PredictedValue p) {
        if (p.isValue()) {
            return Numbers.inputOhms(p.value());
        }
        return p.isBounded()
                ? Numbers.inputOhms(p.low())
                        + (Double.isInfinite(p.high()) ? " or more" : " to " + Numbers.inputOhms(p.high()))
                : "not determined";
    }

    /** {@code 0.83 dB}, {@code 0.4 to 0.9 dB}, {@code not determined}. */
    private static String decibels(PredictedValue p) {
        if (p.isValue()) {
            return hundredths(p.value()) + " dB";
        }
        if (!p.isBounded()) {
            return "not determined";
        }
        return Numbers.bounds(p.low(), p.high(), "dB", MatchFiles::hundredths);
    }

    /** What a least resistance is, in words. */
    private static String least(Matching.LeastResistance least) {
        if (least.any()) {
            return "any";
        }
        if (!least.ohm().isValue() && !least.ohm().isBounded()) {
            return "none is enough";
        }
        String limit = Double.isInfinite(least.upToOhm()) || Double.isNaN(least.upToOhm())
                ? ""
                : ", up to " + Numbers.inputOhms(least.upToOhm());
        return ohms(least.ohm()) + limit;
    }

    private static String hundredths(double db) {
        BigDecimal rounded = BigDecimal.valueOf(db).setScale(2, RoundingMode.HALF_UP);
        return rounded.signum() == 0 ? "0.00" : MinusSign.in(rounded.toPlainString());
    }
}
