package ohmprint.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;

/** The page of the study: tables in Markdown, plots beside it, every cell in a CSV file. */
final class StudyPage {
    private final Study study;
    private final PageText page = new PageText();

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
        new CellTables(study, page).write();
        references();
        followUps();
        whole();
        Files.writeString(folder.resolve("index.md"), page.toString());
    }

    private void introduction() {
        long sessions = study.plan().cells().stream().mapToLong(Cell::sessions).sum();
        page.line("# Validation");
        page.line("");
        page.line(
                "Made by `scripts/validate`, which makes the same figures again from the same seeds; not edited by hand. Every"
                        + " cell is in [cells.csv](cells.csv).");
        page.line("");
        page.say(
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
        page.line("");
        page.line(
                "The bound is that of Cramér and Rao with the priors as information (Van Trees), for all bands together; it is"
                        + " computed from the model by finite differences, without code of the solvers.");
        page.line("");
    }

    private void requirements() {
        page.line("## What has to hold in every cell");
        page.line("");
        page.line("| requirement | cells | least | most | cells that fail |");
        page.line("|---|---|---|---|---|");
        Requirement.of(study).forEach(r -> page.line(r.row()));
        page.line("");
        for (Requirement r : Requirement.of(study)) {
            if (!r.failing().isEmpty()) {
                page.line("Failing, " + r.words() + ":");
                page.line("");
                r.failing().forEach(name -> page.line("- " + name));
                page.line("");
            }
        }
    }

    private void followUps() {
        page.line("## Levels, and what follows from a curve");
        page.line("");
        page.line(
                "Sessions of the power route with gains drawn as they are stated, one for each take and all of its bands, and the"
                        + " loss into a load by their curves. Sessions of three loads and the first again, whose gains scatter as a"
                        + " belief on three degrees of freedom has it. `bins of n`: each power is the mean of n independent ones.");
        page.line("");
        page.line(
                "| cell | sessions | coverage of \\|Z\\|, % | of the loss | error of \\|Z\\|, % | stated U95, % | sessions that miss in"
                        + " most bands, % |");
        page.line("|---|---|---|---|---|---|---|");
        for (FollowUpResult r : study.followUps()) {
            page.say(
                    "| %s | %d | %.1f | %s | %.2f | %.2f | %.1f |",
                    r.cell().name(),
                    r.cell().sessions(),
                    100 * r.magnitudeCoverage(),
                    Double.isNaN(r.lossCoverage()) ? "–" : String.format(Locale.ROOT, "%.1f", 100 * r.lossCoverage()),
                    r.errorPercent(),
                    r.statedPercent(),
                    100 * r.lostSessions());
        }
        page.line("");
    }

    private void references() {
        if (study.references().isEmpty()) {
            return;
        }
        page.line("## Reference channel, takes drawn sample by sample");
        page.line("");
        page.say(
                "Fresh noise in each take, %d sessions in each cell: takes of 2 to 11 blocks, and a take that is quieter than the"
                        + " others beside a noisy reference. Each channel has a room and noise of its own; the level of the"
                        + " noise is taken from a lead-in of 1 s. Bands from 60 Hz to 3.5 kHz, the microphone's channel at"
                        + " %.0f dB, loads and input exactly known. The mean error is weighted by inverse variance.",
                study.references().get(0).cell().sessions(), ReferenceCell.MICROPHONE_SNR_DB);
        page.line("");
        page.line(
                "| cell | coverage of \\|Z\\|, % | of the phase, % | mean error, % | error over stated | bands without a value |");
        page.line("|---|---|---|---|---|---|");
        for (ReferenceCell.Result r : study.references()) {
            page.say(
                    "| %s | %.1f | %.1f | %+.3f | %.3f | %d of %d |",
                    r.cell().name(),
                    100 * r.magnitudeCoverage(),
                    100 * r.phaseCoverage(),
                    r.biasPercent(),
                    r.errorOverStated(),
                    r.rejected(),
                    r.rejected() + r.values());
        }
        page.line("");
    }

    private void whole() {
        page.line("## Whole sessions of audio files");
        page.line("");
        page.say(
                "%d sessions of each kind, or 40 of those that have a requirement, made by `fixtures/make/unseen.py` with circuit, loads, input, room, noise, rate and"
                        + " levels drawn at random, written as WAV files and put through `measure` without any option."
                        + " Bands from 30 Hz to 18 kHz; of resonances those within a third of an octave. The truth of a band is |Z| at"
                        + " its midband, not a mean over the band. Loads and input are stated to ± 0.02 %% and ± 0.1 %%.",
                study.plan().wholeSessions());
        page.line("");
        page.line("![Errors and stated uncertainty of whole sessions](whole.svg)");
        page.line("");
        page.line(
                "| kind | coverage of \\|Z\\|, % | lowest of a session | of the phase | median error, % | 95th percentile | median"
                        + " stated U95, % | mean error, % | called usable | faulty take named, or sound take accused |");
        page.line("|---|---|---|---|---|---|---|---|---|---|");
        for (WholeResult r : study.kinds()) {
            page.say(
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
        page.line("");
        page.line(
                "Errors of a session are alike from band to band where drift or loads dominate, so the coverage of thirty sessions"
                        + " is itself uncertain by some per cent.");
    }

    /** Every cell of the study as a line of a CSV file. */
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
}
