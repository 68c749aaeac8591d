package ohmprint.app.match;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.ResultFolder;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.report.ChartTheme;
import ohmprint.report.LoadingChart;

/** The files of a match: two tables and two pictures, each of these as SVG and PNG. */
final class MatchFiles {
    /** All names that such a folder may hold. */
    private static final Set<String> NAMES =
            Set.of("inputs.csv", "bands.csv", "inputs.svg", "inputs.png", "variable-load.svg", "variable-load.png");

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
        out.put("inputs.csv", ResultFolder.utf8(MatchCsv.inputs(outcome)));
        out.put("bands.csv", ResultFolder.utf8(MatchCsv.bands(outcome)));
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
            String worst = "worst loss " + MatchWords.decibels(p.worstLoss());
            lines.add(new LoadingChart.Line(
                    p.name(), worst + ", tilt " + MatchWords.decibels(p.tilt()), p.losses(), p.changes()));
        }
        List<LoadingChart.Fact> facts = new ArrayList<>();
        facts.add(new LoadingChart.Fact(
                "Ten times the greatest impedance",
                MatchWords.ohms(outcome.tenTimes()) + ", at "
                        + MatchWords.hertz(outcome.tenTimes().hz())));
        facts.add(new LoadingChart.Fact(
                "Least load",
                "for a loss of 1\u00A0dB: " + together(outcome.leastForLoss()) + "; for a tilt of 0.5\u00A0dB: "
                        + together(outcome.leastForTilt())));
        Matching.Coverage covered = outcome.coverage();
        facts.add(new LoadingChart.Fact(
                "Measured",
                MatchWords.hertz(covered.lowestHz()) + " to " + MatchWords.hertz(covered.highestHz())
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
        return MatchWords.least(least).replace(" Ω", "\u00A0Ω").replace(" kΩ", "\u00A0kΩ");
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
}
