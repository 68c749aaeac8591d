package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.audition.AuditionOutcome;
import ohmprint.app.audition.AuditionRequest;
import ohmprint.app.audition.AuditionTake;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code audition}: a take as it would sound into another load.
 *
 * @param useCase what renders it, {@link AuditionTake#run}
 */
record AuditionCommand(Rendering useCase) implements Command {
    /** Its name. */
    static final String NAME = "audition";

    /** Renders a take. */
    @FunctionalInterface
    interface Rendering {
        /** See {@link AuditionTake#run}. */
        AuditionOutcome run(AuditionRequest request, Progress progress) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "A recording made into one load, as it would sound into another.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(0, "TAKE", "The recording: WAV, AIFF or FLAC."))
                .addOption(CommandText.value(
                        "--curve",
                        "CURVE",
                        "Impedance of its microphone: a curve.json or the folder that holds it; required."))
                .addOption(CommandText.value(
                        "--from", "LOAD", "Load resistor of the recording in ohms, or open; required."))
                .addOption(CommandText.value("--to", "LOAD", "Load resistor to hear it with, or open; required."))
                .addOption(CommandText.value(
                        "--input",
                        "OHM",
                        "Resistance of the recording input in ohms, beside the load; required unless the curve"
                                + " already holds the input."))
                .addOption(CommandText.value(
                        "--input-pf", "PF", "Its capacitance with the cable in picofarads (default: 0)."))
                .addOption(CommandText.value(
                        "--to-input", "OHM", "Resistance of another input to hear it with (default: the same)."))
                .addOption(CommandText.value("--to-input-pf", "PF", "Its capacitance with the cable."))
                .addOption(CommandText.value(
                        "--channel", "N", "The only channel to render; others stay as they are (default: all)."))
                .addOption(CommandText.flag(
                        "--level-matched", "Give the result the level of the take, so that only its sound differs."))
                .addOption(CommandText.value("--out", "FILE.wav", "File for the result; required, not overwritten."))
                .addOption(CommandText.value(
                        "--ab", "FILE.wav", "File for the comparison (default: the name of the result with -ab)."))
                .addOption(CommandText.flag("--no-ab", "Write no comparison."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Filters a recording by (1 + Z·ya)/(1 + Z·yb), y being the admittance of load and input, in"
                                + " magnitude and phase. Rate, bit depth, channels and length stay. If the result would clip it"
                                + " is lowered, and the output says by how much. The comparison plays a few passages as recorded"
                                + " and as rendered, in turn. Outside the measured band nothing is claimed.")
                .footer("""

                        Example:
                          ohmprint audition take-1.wav --curve result --from 150 --to open --input 3000 --out open.wav
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        AuditionRequest request = AuditionOptions.request(given);
        AuditionOutcome outcome = console.withProgress(progress -> useCase.run(request, progress));
        if (given.hasMatchedOption("--json")) {
            AuditionReport.json(outcome, console.out());
        } else {
            AuditionReport.text(outcome, console.out());
        }
        outcome.notes().forEach(note -> console.err().println(OneLine.of(note)));
        return ExitCode.DONE;
    }
}
