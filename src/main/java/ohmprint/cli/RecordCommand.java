package ohmprint.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.app.record.RecordListener;
import ohmprint.app.record.RecordRequest;
import ohmprint.app.record.Recording;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code record}: a session is recorded, take by take.
 *
 * @param useCase what begins or continues it, {@link Recording#open}
 * @param answers standard input
 */
record RecordCommand(Beginning useCase, Supplier<BufferedReader> answers) implements Command {
    /** Its name. */
    static final String NAME = "record";

    private static final String EXIT_CODES = """

            Exit codes:
              0  all takes are recorded
              1  a fault of the program
              2  bad input or usage, no sound device, a device that was lost, a full disk
              3  with --yes: the level or a take cannot be used
              6  you stopped before the last take; record SESSION goes on
              130, 143  ended by Ctrl-C or by the system; record SESSION goes on
            Takes that were kept are kept in each case; of the one that was being recorded, what there is is put
            aside at the next start and not used.
            """;

    /** Begins a session or goes on with one. */
    @FunctionalInterface
    interface Beginning {
        /** See {@link Recording#open}. */
        Recording open(RecordRequest request, RecordListener listener) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Records a session: plays, records and checks one take after another.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "SESSION", "Folder of the session: a new one, or one that was begun, which is continued."))
                .addOption(CommandText.value("--label", "TEXT", "Microphone: what the bench calls it."))
                .addOption(CommandText.value("--serial", "TEXT", "Its serial number."))
                .addOption(CommandText.value(
                        "--transducer", "TYPE", "Its principle: moving-coil, ribbon, condenser or other."))
                .addOption(CommandText.value("--rated", "OHM", "Its rated impedance in ohms."))
                .addOption(CommandText.value("--minimum-load", "OHM", "Smallest load that its maker allows."))
                .addOption(
                        CommandText.value("--input", "OHM", "Resistance of the recording input in ohms, or unknown."))
                .addOption(CommandText.value("--input-tolerance", "PERCENT", "Its tolerance (default: 5)."))
                .addOption(CommandText.value(
                        "--input-pf", "PF", "Its capacitance with the cable in picofarads (default: 0)."))
                .addOption(CommandText.value(
                        "--loads", "OHM,OHM,...", "Loads in the order of the takes; open stands for no resistor."))
                .addOption(CommandText.value("--tolerance", "PERCENT", "Tolerance of the resistors (default: 1)."))
                .addOption(CommandText.flag("--no-repeat", "Do not record the first load once more at the end."))
                .addOption(CommandText.value(
                        "--expect", "OHM", "Impedance that is expected (default: the rated one, or a usual one)."))
                .addOption(CommandText.value("--stimulus", "FILE", "Sound file to play, instead of a sweep."))
                .addOption(CommandText.value(
                        "--sound", "KIND", "sweep or noise: what to make, or what the file holds (default: sweep)."))
                .addOption(CommandText.value("--seconds", "S", "Length of the sound (default: 8)."))
                .addOption(CommandText.value("--from", "HZ", "Lower end of the sweep (default: 20)."))
                .addOption(CommandText.value("--to", "HZ", "Upper end of the sweep (default: 20000)."))
                .addOption(CommandText.value("--level", "DBFS", "Peak level of the sound (default: -12)."))
                .addOption(CommandText.value("--in", "NAME", "Recording device, a part of its name as in devices."))
                .addOption(CommandText.value("--out", "NAME", "Playing device, likewise."))
                .addOption(CommandText.value(
                        "--rate", "HZ", "Sample rate (default: that of the device where known, else 48000)."))
                .addOption(CommandText.value(
                        "--channels", "N", "Channels to open (default: those of the device where known, else 2)."))
                .addOption(CommandText.value("--channel", "N", "Channel of the microphone, from 1 (default: 1)."))
                .addOption(CommandText.value(
                        "--reference", "N", "Channel that hears the sound but not the load: loopback or monitor."))
                .addOption(CommandText.value("--lead", "S", "Silence before the sound (default: 1)."))
                .addOption(CommandText.value("--tail", "S", "Silence after it (default: 0.7)."))
                .addOption(CommandText.flag(
                        "--yes", "Ask nothing: cautions count as read, good takes are kept, bad ones repeated twice."))
                .addOption(CommandText.value(
                        "--wait",
                        "WHAT",
                        "With --yes, what to wait for when a load is to be fitted: line, a line on standard input, or a"
                                + " number of seconds (default: line)."))
                .addOption(CommandText.flag("--no-level-check", "With --yes, leave out the trial before the takes."))
                .addOption(CommandText.flag(
                        "--json", "Print one JSON object per line to standard output for each thing that happens."));
        spec.usageMessage()
                .header(header())
                .description(
                        "Shows the cautions, checks level, noise and what uncertainty is to be expected, then asks for"
                                + " one load after the other, plays, records and checks each take at once. What is recorded is on"
                                + " the disk at any moment; after a break, record SESSION goes on where it stopped. A new session"
                                + " needs label, input and loads; what is not given is asked for.")
                .footer("""

                        Examples:
                          ohmprint record bench-ribbon-7
                          ohmprint record bench-ribbon-7 --label "Bench ribbon 7" --input 3000 --loads 220,680,open
                        """ + EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        RecordOptions options = new RecordOptions(Options.of(given));
        Answers asked = new Answers(answers.get(), console.err());
        RecordRequest request = options.request(asked);
        RecordEvents events = new RecordEvents(console, given.hasMatchedOption("--json"));
        Thread farewell = new Thread(() -> {
            console.err().println();
            console.err()
                    .println("ohmprint: stopped; what is recorded is kept, go on with: ohmprint record "
                            + OneLine.of(request.folder().toString()));
            console.err().flush();
        });
        Runtime.getRuntime().addShutdownHook(farewell);
        try {
            Recording recording = useCase.open(request, events);
            return options.unattended()
                    ? new UnattendedTakes(recording, events, asked, options.waiting(), options.levelCheck()).run()
                    : new GuidedTakes(recording, events, asked).run();
        } catch (Answers.EndedException e) {
            throw new BadInputException(e.getMessage() + "; go on with: ohmprint record " + request.folder(), e);
        } finally {
            Runtime.getRuntime().removeShutdownHook(farewell);
        }
    }
}
