package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.stimulus.StimulusOutcome;
import ohmprint.app.stimulus.StimulusRequest;
import ohmprint.app.stimulus.WriteStimulus;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code stimulus}: the sound of a session is written as a file.
 *
 * @param useCase what writes it, {@link WriteStimulus#run}
 */
record StimulusCommand(Writing useCase) implements Command {
    /** Its name. */
    static final String NAME = "stimulus";

    /** Writes a stimulus. */
    @FunctionalInterface
    interface Writing {
        /** See {@link WriteStimulus#run}. */
        StimulusOutcome run(StimulusRequest request) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "The sound to play in all takes, as a WAV file.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(0, "FILE", "WAV file to write, for example stimulus.wav."))
                .addOption(
                        CommandText.value(
                                "--sound",
                                "SOUND",
                                "sweep, or noise with the same power in every octave (pink) or hertz (white) (default: sweep)."))
                .addOption(CommandText.value("--from", "HZ", "Lower end of its band in hertz (default: 20)."))
                .addOption(CommandText.value("--to", "HZ", "Upper end in hertz (default: 20000)."))
                .addOption(CommandText.value(
                        "--seconds", "S", "Length of one copy in seconds (default: 6 of a sweep, 8 of noise)."))
                .addOption(CommandText.value(
                        "--level", "DBFS", "Highest sample in dB relative to full scale (default: -6)."))
                .addOption(CommandText.value("--repeats", "N", "Number of copies (default: 2)."))
                .addOption(CommandText.value(
                        "--gap", "S", "Silence between copies in seconds (default: 1 after a sweep, 0 after noise)."))
                .addOption(CommandText.value("--lead", "S", "Silence before the first copy in seconds (default: 1)."))
                .addOption(CommandText.value("--tail", "S", "Silence after the last copy in seconds (default: 1)."))
                .addOption(CommandText.flag(
                        "--loop",
                        "One copy and its gap, to be played in a loop; takes may begin and end anywhere in it."))
                .addOption(
                        CommandText.value("--rate", "HZ", "Sample rate in hertz, that of the takes (default: 48000)."))
                .addOption(CommandText.value("--bits", "N", "16 or 24 bits a sample (default: 24)."))
                .addOption(CommandText.value(
                        "--seed", "N", "Another number gives another noise; the same gives the same (default: 1)."))
                .addOption(CommandText.flag("--replace", "Replace FILE if it is there."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Writes a sweep or noise to be played by any player while each take is recorded. Nothing is"
                                + " added to mark its beginning: measure finds the sound itself, wherever a take begins, and"
                                + " tells from two copies whether player and recorder ran on one clock.")
                .footer("""

                        Example:
                          ohmprint stimulus stimulus.wav --seconds 10 --level -12
                        """ + CommandText.EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        StimulusOutcome outcome = useCase.run(StimulusOptions.request(given));
        outcome.cautions().forEach(caution -> console.err().println(OneLine.of(caution)));
        console.err().flush();
        if (given.hasMatchedOption("--json")) {
            StimulusReport.json(outcome, console.out());
        } else {
            StimulusReport.print(outcome, console.out());
        }
        return ExitCode.DONE;
    }
}
