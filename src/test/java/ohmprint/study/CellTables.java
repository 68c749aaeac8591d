package ohmprint.study;

import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import ohmprint.study.Cell.Layout;

/** The tables of the page that have a row for each kind of cell: coverage, efficiency, joint fit, planner. */
final class CellTables {
    private final Study study;
    private final PageText page;

    CellTables(Study study, PageText page) {
        this.study = study;
        this.page = page;
    }

    /** Adds all of them. */
    void write() {
        coverage();
        efficiency();
        joint();
        planner();
    }

    private void coverage() {
        page.line("## Coverage of the stated 95 % intervals");
        page.line("");
        page.line("![Coverage of |Z| and phase in every cell](coverage.svg)");
        page.line("");
        page.line("Least and most over the circuits, per cent.");
        page.line("");
        page.line(
                "| loads | bench, drift, noise, route | \\|Z\\| | phase | mean error of \\|Z\\| over its root mean square,"
                        + " worst band |");
        page.line("|---|---|---|---|---|");
        grouped(
                spread(),
                (name, group) -> String.format(
                        Locale.ROOT,
                        "| %s | %s | %s | %s |",
                        name,
                        range(group, r -> 100 * r.magnitudeCoverage(), "%.1f"),
                        range(group, r -> 100 * r.phaseCoverage(), "%.1f"),
                        range(group, CellResult::biasOverError, "%.2f")));
    }

    private List<CellResult> spread() {
        return study.usual().stream()
                .filter(r -> r.cell().layout() == Layout.SPREAD)
                .toList();
    }

    private void efficiency() {
        page.line("## Error over the least that is possible");
        page.line("");
        page.line("![Root mean square error over the bound](efficiency.svg)");
        page.line("");
        page.line(
                "| loads | bench, drift, noise, route | error of \\|Z\\|, % | over the bound of all bands together | over the"
                        + " bound of each band alone |");
        page.line("|---|---|---|---|---|");
        grouped(
                spread(),
                (name, group) -> String.format(
                        Locale.ROOT,
                        "| %s | %s | %s | %s |",
                        name,
                        range(group, CellResult::errorPercent, "%.2f"),
                        range(group, CellResult::efficiency, "%.3f"),
                        range(group, CellResult::alone, "%.3f")));
        page.line(
                "On the reference route the bins' noise is known on average only, so its bound, which takes the noise for"
                        + " known, cannot be reached.");
        page.line("");
    }

    private void joint() {
        page.line("## Joint and separate fit");
        page.line("");
        page.line("![Error of the joint fit over that of the separate fit](joint.svg)");
        page.line("");
        page.line(
                "Error of the joint fit over that of the separate fit on the same sessions, and the coverage of the separate"
                        + " fit beside it. With two takes both are the same.");
        page.line("");
        page.line(
                "| loads | bench, drift, noise, route | joint over separate | coverage of the separate fit, \\|Z\\| | phase |");
        page.line("|---|---|---|---|---|");
        List<CellResult> fitted =
                spread().stream().filter(r -> r.cell().loads().takes() > 2).toList();
        grouped(
                fitted,
                (name, group) -> String.format(
                        Locale.ROOT,
                        "| %s | %s | %s | %s |",
                        name,
                        range(group, r -> Requirement.gain(study, r), "%.3f"),
                        range(group, r -> 100 * study.separate(r).magnitudeCoverage(), "%.1f"),
                        range(group, r -> 100 * study.separate(r).phaseCoverage(), "%.1f")));
    }

    private void planner() {
        page.line("## The planner's prediction");
        page.line("");
        page.line("![Error over what the planner foretells](planner.svg)");
        page.line("");
        page.line(
                "Sessions whose bins lie as the planner counts them: half a second of sound, all bands from 250 Hz to 2.5 kHz.");
        page.line("");
        page.line("| loads | bench, drift, noise, route | error over prediction |");
        page.line("|---|---|---|");
        grouped(
                study.usual().stream()
                        .filter(r -> r.cell().layout() == Layout.EVEN)
                        .toList(),
                (name, group) -> String.format(
                        Locale.ROOT, "| %s | %s |", name, range(group, CellResult::overPredicted, "%.3f")));
    }

    /** What a group of circuits gives in one row. */
    private interface Row {
        String of(String name, List<CellResult> group);
    }

    private void grouped(List<CellResult> results, Row row) {
        CellResult.grouped(results, CellTables::name).forEach((name, group) -> page.line(row.of(name, group)));
        page.line("");
    }

    private static String name(Cell cell) {
        return String.format(
                Locale.ROOT,
                "%s | %s, %.4f dB, %.0f dB, %s",
                cell.loads().words(),
                cell.tolerance() == Tolerance.MEASURED ? "measured" : "bought",
                cell.driftDb(),
                cell.snrDb(),
                cell.route().words());
    }

    private static String range(List<CellResult> group, ToDoubleFunction<CellResult> value, String format) {
        Function<Double, String> words = v -> String.format(Locale.ROOT, format, v);
        return words.apply(group.stream().mapToDouble(value).min().orElse(Double.NaN))
                + " – "
                + words.apply(group.stream().mapToDouble(value).max().orElse(Double.NaN));
    }
}
