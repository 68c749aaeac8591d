package ohmprint.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.Supplier;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.record.RecordRequest;
import ohmprint.app.record.Recording;
import ohmprint.cli.RecordDialogue.Prompt;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.Permitted;
import org.jspecify.annotations.Nullable;

/** {@code record}: a session is recorded, take by take. What a new session lacks is asked for. */
final class RecordCommand extends Command {
    /** Its name. */
    static final String NAME = "record";

    /** What it is for. */
    static final String HEADER = "Records a session: plays, records and checks one take after another.";

    private static final Range OHM = Range.of(Permitted.OHM, "200");
    private static final RecordRequest.Sound USUAL_SOUND = RecordRequest.Sound.USUAL;
    private static final RecordRequest.Input USUAL_INPUT = RecordRequest.Input.ofOhms(Double.NaN);

    private static final Parameter<Path> SESSION = Parameter.argument(
            0,
            "SESSION",
            "Folder of the session: a new one, or one that was begun, which is continued.",
            ValueFormat.path("the path of a folder"));
    private static final Parameter<String> LABEL =
            Parameter.option("--label", "TEXT", "Microphone: what the bench calls it.", RecordCommand::label);
    private static final Parameter<String> SERIAL = Parameter.option("--serial", "TEXT", "Its serial number.");
    private static final Parameter<String> TRANSDUCER = Parameter.option(
            "--transducer",
            "TYPE",
            "Its principle: " + TerminalText.list(ValueFormat.TRANSDUCERS, "or") + ".",
            ValueFormat.word(ValueFormat.TRANSDUCERS));
    private static final Parameter<Double> RATED =
            Parameter.option("--rated", "OHM", "Its rated impedance in ohms.", OHM);
    private static final Parameter<Double> MINIMUM_LOAD =
            Parameter.option("--minimum-load", "OHM", "Smallest load that its maker allows.", OHM);
    private static final Parameter<Double> INPUT = Parameter.option(
            "--input", "OHM", "Resistance of the recording input in ohms, or unknown.", RecordCommand::input);
    private static final Parameter<Double> INPUT_TOLERANCE = Parameter.option(
                    "--input-tolerance", "PERCENT", "Its tolerance.", Range.percent("5"))
            .usually(USUAL_INPUT.tolerancePercent());
    private static final Parameter<Double> INPUT_PF = Parameter.option(
                    "--input-pf",
                    "PF",
                    "Its capacitance with the cable in picofarads.",
                    Range.from0(Permitted.PICOFARAD, "470"))
            .usually(USUAL_INPUT.pf());
    private static final Parameter<List<Double>> LOADS = Parameter.option(
            "--loads",
            "OHM,OHM,...",
            "Loads in the order of the takes; open stands for no resistor.",
            RecordCommand::loads);
    private static final Parameter<Double> TOLERANCE = Parameter.option(
                    "--tolerance", "PERCENT", "Tolerance of the resistors.", Range.percent("1"))
            .usually(RecordRequest.Loads.ofOhms().tolerancePercent());
    private static final Parameter<String> NO_REPEAT =
            Parameter.flag("--no-repeat", "Do not record the first load once more at the end.");
    private static final Parameter<Double> EXPECT = Parameter.option(
            "--expect", "OHM", "Impedance that is expected (default: the rated one, or a usual one).", OHM);
    private static final Parameter<Path> STIMULUS = Parameter.option(
            "--stimulus",
            "FILE",
            "Sound file to play, instead of a sweep.",
            ValueFormat.path("the path of a sound file"));
    private static final Parameter<String> SOUND = Parameter.option(
            "--sound",
            "KIND",
            "sweep or noise: what to make, or what the file holds (default: sweep).",
            ValueFormat.word(List.of("sweep", "noise")));
    private static final Parameter<Double> SECONDS = Parameter.option(
                    "--seconds", "S", "Length of the sound.", Range.above0("s", 120, "8"))
            .usually(USUAL_SOUND.seconds());
    private static final Parameter<Double> FROM = Parameter.option(
                    "--from", "HZ", "Lower end of the sweep.", Range.of(Permitted.HERTZ, "20"))
            .usually(USUAL_SOUND.fromHz());
    private static final Parameter<Double> TO = Parameter.option(
                    "--to", "HZ", "Upper end of the sweep.", Range.of(Permitted.HERTZ, "20000"))
            .usually(USUAL_SOUND.toHz());
    private static final Parameter<Double> LEVEL = Parameter.option(
                    "--level", "DBFS", "Peak level of the sound.", new Range("dBFS", -80, 0, "-12"))
            .usually(USUAL_SOUND.peakDbfs());
    private static final Parameter<String> IN =
            Parameter.option("--in", "NAME", "Recording device, a part of its name as in devices.");
    private static final Parameter<String> OUT = Parameter.option("--out", "NAME", "Playing device, likewise.");
    private static final Parameter<Integer> RATE = Parameter.option(
            "--rate",
            "HZ",
            "Sample rate (default: that of the device where known, else 48000).",
            new Range("Hz", 8000, 768_000, "48000").whole());
    private static final Parameter<Integer> CHANNELS = Parameter.option(
            "--channels",
            "N",
            "Channels to open (default: those of the device where known, else 2).",
            new Range("channels", 1, 32, "2").whole());
    private static final Parameter<Integer> CHANNEL = Parameter.option(
            "--channel",
            "N",
            "Channel of the microphone, from 1 (default: 1).",
            new Range("channel", 1, 32, "1").whole());
    private static final Parameter<Integer> REFERENCE = Parameter.option(
            "--reference",
            "N",
            "Channel that hears the sound but not the load: loopback or monitor.",
            new Range("channel", 1, 32, "2").whole());
    private static final Parameter<Double> LEAD =
            Parameter.option("--lead", "S", "Silence before the sound (default: 1).", new Range("s", 0.3, 120, "1"));
    private static final Parameter<Double> TAIL =
            Parameter.option("--tail", "S", "Silence after it (default: 0.7).", new Range("s", 0.3, 120, "0.7"));
    private static final Parameter<String> YES = Parameter.flag(
            "--yes", "Ask nothing: cautions count as read, good takes are kept, bad ones repeated twice.");
    private static final Parameter<Double> WAIT = Parameter.option(
            "--wait",
            "WHAT",
            "With --yes, what to wait for when a load is to be fitted: line, a line on standard input, or a"
                    + " number of seconds (default: line).",
            RecordCommand::waiting);
    private static final Parameter<String> NO_LEVEL_CHECK =
            Parameter.flag("--no-level-check", "With --yes, leave out the trial before the takes.");
    private static final Parameter<String> JSON =
            Parameter.flag("--json", "Print one JSON object per line to standard output for each thing that happens.");

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

    private final Beginning useCase;
    private final Supplier<BufferedReader> answers;

    /** Begins a session or goes on with one. */
    @FunctionalInterface
    interface Beginning {
        /** See {@link Recording#open}. */
        Recording open(RecordRequest request, Recording.Listener listener) throws BadInputException, IOException;
    }

    /**
     * The command.
     *
     * @param useCase {@link Recording#open} or, in tests, something else
     * @param answers standard input
     */
    RecordCommand(Beginning useCase, Supplier<BufferedReader> answers) {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Shows the cautions, checks level, noise and what uncertainty is to be expected, then asks for"
                                + " one load after the other, plays, records and checks each take at once. What is"
                                + " recorded is on the disk at any moment; after a break, record SESSION goes on where it"
                                + " stopped. A new session needs label, input and loads; what is not given is asked for.",
                        """

                        Examples:
                          ohmprint record bench-ribbon-7
                          ohmprint record bench-ribbon-7 --label "Bench ribbon 7" --input 3000 --loads 220,680,open
                        """ + EXIT_CODES + Usage.CAUTIONS,
                        SESSION,
                        LABEL,
                        SERIAL,
                        TRANSDUCER,
                        RATED,
                        MINIMUM_LOAD,
                        INPUT,
                        INPUT_TOLERANCE,
                        INPUT_PF,
                        LOADS,
                        TOLERANCE,
                        NO_REPEAT,
                        EXPECT,
                        STIMULUS,
                        SOUND,
                        SECONDS,
                        FROM,
                        TO,
                        LEVEL,
                        IN,
                        OUT,
                        RATE,
                        CHANNELS,
                        CHANNEL,
                        REFERENCE,
                        LEAD,
                        TAIL,
                        YES,
                        WAIT,
                        NO_LEVEL_CHECK,
                        JSON));
        this.useCase = useCase;
        this.answers = answers;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        Prompt asked = new Prompt(answers.get(), console.err());
        RecordRequest request = request(given, asked);
        RecordDialogue.EventPrinter events = new RecordDialogue.EventPrinter(console, given.has(JSON));
        Thread farewell = new Thread(() -> {
            console.err().println();
            console.note(
                    "ohmprint: stopped; what is recorded is kept, go on with: ohmprint record " + request.folder());
        });
        Runtime.getRuntime().addShutdownHook(farewell);
        try {
            RecordDialogue dialogue = new RecordDialogue(useCase.open(request, events), events, asked);
            return given.has(YES)
                    ? dialogue.unattended(given.or(WAIT, Double.NaN), !given.has(NO_LEVEL_CHECK))
                    : dialogue.guided();
        } catch (Prompt.EndedException e) {
            throw new BadInputException(e.getMessage() + "; go on with: ohmprint record " + request.folder(), e);
        } finally {
            Runtime.getRuntime().removeShutdownHook(farewell);
        }
    }

    private static RecordRequest request(Options given, Prompt prompt) throws UsageException, IOException {
        for (Parameter<?> only : List.of(WAIT, NO_LEVEL_CHECK)) {
            if (given.has(only) && !given.has(YES)) {
                throw new UsageException(only.name() + " is for unattended recording; give --yes too, or leave it out");
            }
        }
        given.find(WAIT);
        Path folder = given.get(SESSION);
        boolean begun = Files.exists(folder.resolve("session.yaml"));
        // Every option is read before anything is asked, so that no answer is given in vain.
        RecordRequest.Sound sound = sound(given);
        RecordRequest.Bench bench = bench(given);
        Double expected = given.find(EXPECT);
        double tolerance = given.get(TOLERANCE);
        List<Double> loads = given.find(LOADS);
        Microphone microphone = microphone(given);
        Double input = input(given);
        double inputTolerance = given.get(INPUT_TOLERANCE);
        double inputPf = given.get(INPUT_PF);
        if (!begun && !given.has(YES)) {
            if (microphone == null) {
                microphone = named(prompt.read("Microphone, what the bench calls it:", LABEL.format()));
            }
            if (input == null) {
                input = prompt.read("Resistance of the recording input in ohms, or unknown:", INPUT.format());
            }
            if (loads == null) {
                loads = prompt.read("Loads in ohms in the order of the takes, such as 150,1500,open:", LOADS.format());
            }
        }
        if (!begun) {
            requireAll(microphone, input, loads);
        }
        return new RecordRequest(
                folder,
                microphone,
                input == null ? null : new RecordRequest.Input(input, inputTolerance, inputPf),
                loads == null ? null : new RecordRequest.Loads(loads, tolerance, !given.has(NO_REPEAT)),
                sound,
                bench,
                expected);
    }

    private static void requireAll(
            @Nullable Microphone microphone, @Nullable Double input, @Nullable List<Double> loads)
            throws UsageException {
        List<String> missing = new ArrayList<>();
        if (microphone == null) {
            missing.add(LABEL.name());
        }
        if (input == null) {
            missing.add(INPUT.name());
        }
        if (loads == null) {
            missing.add(LOADS.name());
        }
        if (!missing.isEmpty()) {
            throw new UsageException("a new session needs " + TerminalText.list(missing, "and")
                    + "; for example --label \"Bench ribbon 7\" --input 3000 --loads 150,1500");
        }
    }

    private static @Nullable Microphone microphone(Options given) throws UsageException {
        String transducer = given.find(TRANSDUCER);
        Double rated = given.find(RATED);
        Double least = given.find(MINIMUM_LOAD);
        String serial = given.find(SERIAL);
        if (!given.has(LABEL)) {
            if (Stream.of(transducer, rated, least, serial).anyMatch(Objects::nonNull)) {
                throw new UsageException("the microphone has no name; give --label too");
            }
            return null;
        }
        return new Microphone(given.get(LABEL), null, null, serial, transducer, rated, least, null);
    }

    private static Microphone named(String label) {
        return new Microphone(label, null, null, null, null, null, null, null);
    }

    private static String label(String what, String text) throws UsageException {
        if (text.isBlank()) {
            throw new UsageException(what + " is empty; give what the bench calls the microphone");
        }
        return text;
    }

    private static @Nullable Double input(Options given) throws UsageException {
        if (!given.has(INPUT)) {
            for (Parameter<?> ofInput : List.of(INPUT_TOLERANCE, INPUT_PF)) {
                if (given.has(ofInput)) {
                    throw new UsageException(
                            ofInput.name() + " is given without --input; give the resistance too, or unknown");
                }
            }
        }
        return given.find(INPUT);
    }

    /** Ohms; NaN for an unknown input. */
    private static Double input(String what, String text) throws UsageException {
        return text.equals("unknown")
                ? (Double) Double.NaN
                : Range.of(Permitted.OHM, "3000, or unknown").read(what, text);
    }

    private static List<Double> loads(String what, String text) throws UsageException {
        ValueFormat<Double> load = ValueFormat.load("150,1500,open");
        List<Double> ohms = new ArrayList<>();
        for (String part : text.split(",", -1)) {
            ohms.add(load.read(what, part.strip()));
        }
        if (ohms.stream().distinct().count() < 2) {
            throw new UsageException(what + " is " + text + "; give two or more different loads, for example 150,1500");
        }
        return ohms;
    }

    /** Seconds to wait for a load; NaN for a line on standard input. */
    private static Double waiting(String what, String text) throws UsageException {
        return text.equals("line") ? (Double) Double.NaN : new Range("s", 0, 86_400, "10").read(what, text);
    }

    private static RecordRequest.@Nullable Sound sound(Options given) throws UsageException {
        Path file = given.find(STIMULUS);
        String kind = given.find(SOUND);
        double seconds = given.get(SECONDS);
        double from = given.get(FROM);
        double to = given.get(TO);
        double level = given.get(LEVEL);
        boolean made = Stream.of(SECONDS, FROM, TO, LEVEL).anyMatch(given::has);
        if (file != null && made) {
            throw new UsageException("--stimulus is played as it is; leave out --seconds, --from, --to and --level");
        }
        boolean noise = "noise".equals(kind);
        if (noise && (given.has(FROM) || given.has(TO))) {
            throw new UsageException("--from and --to are for a sweep; noise covers the whole range");
        }
        if (file == null && kind == null && !made) {
            return null;
        }
        Options.requireOrder(from, to);
        return new RecordRequest.Sound(file, noise, seconds, from, to, level);
    }

    private static RecordRequest.Bench bench(Options given) throws UsageException {
        return new RecordRequest.Bench(
                given.find(IN),
                given.find(OUT),
                given.find(RATE),
                given.find(CHANNELS),
                given.find(CHANNEL),
                given.find(REFERENCE),
                given.find(LEAD),
                given.find(TAIL));
    }
}
