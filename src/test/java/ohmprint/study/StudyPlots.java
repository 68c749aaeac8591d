package ohmprint.study;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import ohmprint.chart.StripChart;
import ohmprint.study.Cell.Layout;

/** The plots of the study, by file name. */
final class StudyPlots {
    private final Study study;

    private StudyPlots(Study study) {
        this.study = study;
    }

    static Map<String, String> of(Study study) {
        StudyPlots plots = new StudyPlots(study);
        Map<String, String> all = new LinkedHashMap<>();
        all.put("coverage.svg", plots.coverage());
        all.put("efficiency.svg", plots.efficiency());
        all.put("joint.svg", plots.joint());
        all.put("planner.svg", plots.planner());
        all.put("whole.svg", plots.whole());
        return all;
    }

    private List<CellResult> usual(Layout layout) {
        return study.usual().stream().filter(r -> r.cell().layout() == layout).toList();
    }

    private String coverage() {
        StripChart chart = new StripChart(
                "Do the stated 95 % intervals hold the truth?",
                "Share of intervals that do, one mark per cell",
                "coverage in %",
                List.of("|Z|", "phase"),
                List.of(93.5, 95.0, 96.5));
        groups(usual(Layout.SPREAD))
                .forEach((name, group) -> chart.strip(
                        name,
                        values(group, r -> 100 * r.magnitudeCoverage()),
                        values(group, r -> 100 * r.phaseCoverage())));
        return chart.svg();
    }

    private String efficiency() {
        StripChart chart = new StripChart(
                "Error over the least that is possible",
                "Root mean square error of |Z| over the Cramér–Rao bound with the priors as information, one mark per cell",
                "error / bound",
                List.of("fit that measure uses", "separate fit"),
                List.of(1.0, 1.05));
        groups(usual(Layout.SPREAD))
                .forEach((name, group) -> chart.strip(
                        name,
                        values(group, CellResult::efficiency),
                        values(group, r -> study.separate(r).efficiency())));
        return chart.svg();
    }

    private String joint() {
        StripChart chart = new StripChart(
                "What the joint fit gains",
                "Error of |Z| with the joint fit over that of the separate fit, one mark per cell",
                "joint / separate",
                List.of("error"),
                List.of(0.85, 1.0, 1.02));
        groups(usual(Layout.SPREAD).stream()
                        .filter(r -> r.cell().loads().takes() > 2)
                        .toList())
                .forEach((name, group) -> chart.strip(name, values(group, r -> Requirement.gain(study, r))));
        return chart.svg();
    }

    private String planner() {
        StripChart chart = new StripChart(
                "Does the planner foretell the error?",
                "Root mean square error of |Z| over the predicted standard uncertainty, one mark per cell",
                "error / prediction",
                List.of("error"),
                List.of(0.85, 1.0, 1.15));
        groups(usual(Layout.EVEN))
                .forEach((name, group) -> chart.strip(name, values(group, CellResult::overPredicted)));
        return chart.svg();
    }

    private String whole() {
        StripChart chart = new StripChart(
                        "Whole sessions of audio files",
                        "Per kind of session: 95th percentile of the error of |Z|, and the median of the stated 95 % uncertainty",
                        "% of |Z|",
                        List.of("95th percentile of the error", "stated, median"),
                        List.of())
                .byRatios();
        for (WholeResult r : study.kinds()) {
            if (!r.kind().isFaulty() || r.kind() == WholeKind.WRONG_LOAD) {
                chart.strip(r.kind().word(), new double[] {r.highErrorPercent()}, new double[] {r.statedPercent()});
            }
        }
        return chart.svg();
    }

    /** Results by loads, bench, drift and noise, in words of three lines. */
    private static Map<String, List<CellResult>> groups(List<CellResult> results) {
        return CellResult.grouped(results, StudyPlots::words);
    }

    private static String words(Cell cell) {
        String loads =
                cell.loads() == LoadSet.TWO_AND_FIRST ? "2 + 1" : cell.loads().words();
        String drift = cell.drift() == StudyPlan.UNSTEADY ? "drifting" : "steady";
        String bench = cell.tolerance() == Tolerance.MEASURED ? drift : "bought";
        return loads + "\n" + bench + "\n" + Math.round(cell.snrDb()) + " dB";
    }

    private static double[] values(List<CellResult> group, ToDoubleFunction<CellResult> value) {
        return group.stream().mapToDouble(value).toArray();
    }
}
