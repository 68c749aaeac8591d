package ohmprint.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/** The page of the study: tables in Markdown, plots beside it, every cell in a CSV file. */
final class StudyPage {
    private final Study study;
    private final StringBuilder text = new StringBuilder();

    StudyPage(Study study) {
        this.study = study;
    }

    /** Writes page, plots and CSV into a folder. */
    void write(Path folder) throws IOException {
        Files.createDirectories(folder);
        for (Map.Entry<String, String> plot : StudyPlots.of(study).entrySet()) {
            Files.writeString(folder.resolve(plot.getKey()), plot.getValue());
        }
        Files.writeString(folder.resolve("cells.csv"), csv());
        introduction();
        requirements();
        coverage();
        efficiency();
        joint();
        planner();
        whole();
        Files.writeString(folder.resolve("index.md"), text.toString());
    }

    private void introduction() {
        long sessions = study.plan().cells().stream().mapToLong(Cell::sessions).sum();
        line("# Validation");
        line("");
        line(
                "Made by `scripts/validate`, which makes the same figures again from the same seeds; not edited by hand. Every"
                        + " cell is in [cells.csv](cells.csv).");
        line("");
        say(
                "The fast study draws %,d sessions in %d cells: %d circuits, two to four loads, drift, noise and routes."
                        + " Resistors, input, gains and delays are drawn from what is stated about them, then each take's"
                        + " spectrum, with the power of a room with many reflections, from the divider's formula plus noise."
                        + " Each session holds twelve bins in one twelfth-octave band of every octave from 31 Hz to 16 kHz."
                        + " Noise is given as the ratio per bin in a take without a resistor. `measured` bench: loads"
                        + " ± 0.02 %%, input ± 0.2 %%, 2 %% of its capacitance; `bought`: loads ± 1 %%, input ± 5 %% and"
                        + " 10 %%, all rectangular. Drift is the standard deviation of each take's level, drawn and stated"
                        + " alike. A cell holds %d sessions or more, two or three times as many where errors that all bands share"
                        + " dominate, because such a session counts for little more than one value.",
                sessions, study.plan().cells().size(), StudyCircuit.values().length, StudyPlan.SESSIONS);
        line("");
        line(
                "The bound is that of Cramér and Rao with the priors as information (Van Trees), for all bands together; it is"
                        + " computed from the model by finite differences, without code of the solvers.");
        line("");
    }

    private void requirements() {
        line("## What has to hold in every cell");
        line("");
        line("| requirement | cells | least | most | cells that fail |");
        line("|---|---|---|---|---|");
        Requirement.of(study).forEach(r -> text.append(r.row()));
        line("");
        for (Requirement r : Requirement.of(study)) {
            if (!r.failing().isEmpty()) {
                line("Failing, " + r.words() + ":");
                line("");
                r.failing().forEach(c -> line("- " + c.cell().name()));
                line("");
            }
        }
    }

    private void coverage() {
        line("## Coverage of the stated 95 % intervals");
        line("");
        line("![Coverage of |Z| and phase in every cell](coverage.svg)");
        line("");
        line("Least and most over the circuits, per cent.");
        line("");
        line("| loads | bench, drift, noise, route | \\|Z\\| | phase | mean error of \\|Z\\| over its root mean square,"
                + " worst band |");
        line("|---|---|---|---|---|");
        grouped(
                study.usual().stream()
                        .filter(r -> r.cell().layout() == Layout.SPREAD)
                        .toList(),
                (name, group) -> String.format(
                        Locale.ROOT,
                        "| %s | %s | %s | %s |",
                        name,
                        range(group, r -> 100 * r.magnitudeCoverage(), "%.1f"),
                        range(group, r -> 100 * r.phaseCoverage(), "%.1f"),
                        range(group, CellResult::biasOverError, "%.2f")));
    }

    private void efficiency() {
        line("## Error over the least that is possible");
        line("");
        line("![Root mean square error over the bound](efficiency.svg)");
        line("");
        line(
                "| loads | bench, drift, noise, route | error of \\|Z\\|, % | over the bound of all bands together | over the"
                        + " bound of each band alone |");
        line("|---|---|---|---|---|");
        grouped(
                study.usual().stream()
                        .filter(r -> r.cell().layout() == Layout.SPREAD)
                        .toList(),
                (name, group) -> String.format(
                        Locale.ROOT,
                        "| %s | %s | %s | %s |",
                        name,
                        range(group, CellResult::errorPercent, "%.2f"),
                        range(group, CellResult::efficiency, "%.3f"),
                        range(group, CellResult::alone, "%.3f")));
        line("On the reference route the bins' noise is known on average only, so its bound, which takes the noise for"
                + " known, cannot be reached.");
        line("");
    }

    private void joint() {
        line("## Joint and separate fit");
        line("");
        line("![Error of the joint fit over that of the separate fit](joint.svg)");
        line("");
        line(
                "Error of the joint fit over that of the separate fit on the same sessions, and the coverage of the separate"
                        + " fit beside it. With two takes both are the same.");
        line("");
        line(
                "| loads | bench, drift, noise, route | joint over separate | coverage of the separate fit, \\|Z\\| | phase |");
        line("|---|---|---|---|---|");
        List<CellResult> fitted = study.usual().stream()
                .filter(r ->
                        r.cell().layout() == Layout.SPREAD && r.cell().loads().takes() > 2)
                .toList();
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
        line("## The planner's prediction");
        line("");
        line("![Error over what the planner foretells](planner.svg)");
        line("");
        line(
                "Sessions whose bins lie as the planner counts them: half a second of sound, all bands from 250 Hz to 2.5 kHz.");
        line("");
        line("| loads | bench, drift, noise, route | error over prediction |");
        line("|---|---|---|");
        grouped(
                study.usual().stream()
                        .filter(r -> r.cell().layout() == Layout.EVEN)
                        .toList(),
                (name, group) -> String.format(
                        Locale.ROOT, "| %s | %s |", name, range(group, CellResult::overPredicted, "%.3f")));
    }

    private void whole() {
        line("## Whole sessions of audio files");
        line("");
        say(
                "%d sessions of each kind, made by `fixtures/make/unseen.py` with circuit, loads, input, room, noise, rate and"
                        + " levels drawn at random, written as WAV files and put through `measure` without any option."
                        + " Bands from 30 Hz to 18 kHz. Loads and input are stated to ± 0.02 %% and ± 0.1 %%.",
                study.plan().wholeSessions());
        line("");
        line("![Errors and stated uncertainty of whole sessions](whole.svg)");
        line("");
        line(
                "| kind | coverage of \\|Z\\|, % | lowest of a session | of the phase | median error, % | 95th percentile | median"
                        + " stated U95, % | mean error, % | called usable | faulty take named, or sound take accused |");
        line("|---|---|---|---|---|---|---|---|---|---|");
        for (WholeResult r : study.kinds()) {
            say(
                    "| %s | %.1f | %.1f | %s | %.3f | %.3f | %.3f | %+.3f | %d of %d | %s %d |",
                    r.kind().words(),
                    100 * r.magnitudeCoverage(),
                    100 * r.lowestCoverage(),
                    Double.isNaN(r.phaseCoverage()) ? "–" : String.format(Locale.ROOT, "%.1f", 100 * r.phaseCoverage()),
                    r.medianErrorPercent(),
                    r.highErrorPercent(),
                    r.statedPercent(),
                    r.biasPercent(),
                    r.usable(),
                    r.sessions(),
                    r.kind().isFaulty() ? "named" : "accused",
                    r.told());
        }
        line("");
        line(
                "Errors of a session are alike from band to band where drift or loads dominate, so the coverage of thirty sessions"
                        + " is itself uncertain by some per cent.");
    }

    /** What a group of circuits gives in one row. */
    private interface Row {
        String of(String name, List<CellResult> group);
    }

    private void grouped(List<CellResult> results, Row row) {
        Map<String, List<CellResult>> groups = new LinkedHashMap<>();
        for (LoadSet loads : LoadSet.values()) {
            results.stream()
                    .filter(r -> r.cell().loads() == loads)
                    .forEach(r -> groups.computeIfAbsent(name(r.cell()), n -> new java.util.ArrayList<>())
                            .add(r));
        }
        groups.forEach((name, group) -> line(row.of(name, group)));
        line("");
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

    private String csv() {
        StringBuilder out =
                new StringBuilder("circuit,loads,bench,drift_db,snr_db,route,bins,fit,sessions,coverage_magnitude,"
                        + "coverage_phase,error_percent,error_over_bound,error_over_bound_alone,error_over_prediction,bias_percent,"
                        + "stated_over_error,rejected\n");
        for (CellResult r : study.cells()) {
            out.append(String.format(
                    Locale.ROOT,
                    "\"%s\",%s,%s,%.4f,%.0f,%s,%s,%s,%d,%.4f,%.4f,%.4f,%.4f,%.4f,%s,%.4f,%.4f,%d%n",
                    r.cell().circuit().words(),
                    r.cell().loads().words(),
                    r.cell().tolerance() == Tolerance.MEASURED ? "measured" : "bought",
                    r.cell().driftDb(),
                    r.cell().snrDb(),
                    r.cell().route().words(),
                    r.cell().layout().name().toLowerCase(Locale.ROOT),
                    r.fit().words(),
                    r.cell().sessions(),
                    r.magnitudeCoverage(),
                    r.phaseCoverage(),
                    r.errorPercent(),
                    r.efficiency(),
                    r.alone(),
                    Double.isNaN(r.overPredicted()) ? "" : String.format(Locale.ROOT, "%.4f", r.overPredicted()),
                    r.biasPercent(),
                    r.statedOverError(),
                    r.rejected()));
        }
        return out.toString();
    }

    private void line(String words) {
        text.append(words).append('\n');
    }

    private void say(String format, Object... values) {
        line(String.format(Locale.ROOT, format, values));
    }
}
