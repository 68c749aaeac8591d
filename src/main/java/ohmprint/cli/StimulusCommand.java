package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.stimulus.StimulusOutcome;
import ohmprint.app.stimulus.StimulusRequest;
import ohmprint.app.stimulus.StimulusRequest.Sound;
import ohmprint.app.stimulus.StimulusRequest.Timing;
import ohmprint.app.stimulus.WriteStimulus;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.json.JsonObject;

/** {@code stimulus}: the sound of a session is written as a file. */
final class StimulusCommand extends Command {
    /** Its name. */
    static final String NAME = "stimulus";

    /** What it is for. */
    static final String HEADER = "The sound to play in all takes, as a WAV file.";

    private static final Range HERTZ = Range.above0("Hz", 96_000, "20");
    private static final Range SILENCE = new Range("s", 0, 30, "1");

    private static final Parameter<Path> FILE = Parameter.argument(
            0, "FILE", "WAV file to write, for example stimulus.wav.", ValueFormat.path("the path of a WAV file"));
    private static final Parameter<Sound> SOUND = Parameter.option(
            "--sound",
            "SOUND",
            "sweep, or noise with the same power in every octave (pink) or hertz (white) (default: sweep).",
            ValueFormat.choice(List.of(Sound.values()), Sound::word));
    private static final Parameter<Double> FROM = Parameter.option(
                    "--from", "HZ", "Lower end of its band in hertz.", HERTZ)
            .usually(20.0);
    private static final Parameter<Double> TO =
            Parameter.option("--to", "HZ", "Upper end in hertz.", HERTZ).usually(20_000.0);
    private static final Parameter<Double> SECONDS = Parameter.option(
            "--seconds",
            "S",
            "Length of one copy in seconds (default: 6 of a sweep, 8 of noise).",
            new Range("s", 0.5, 60, "6"));
    private static final Parameter<Double> LEVEL = Parameter.option(
                    "--level", "DBFS", "Highest sample in dB relative to full scale.", new Range("dBFS", -60, 0, "-6"))
            .usually(-6.0);
    private static final Parameter<Integer> REPEATS = Parameter.option(
            "--repeats", "N", "Number of copies (default: 2).", new Range("copies", 1, 100, "2").whole());
    private static final Parameter<Double> GAP = Parameter.option(
            "--gap", "S", "Silence between copies in seconds (default: 1 after a sweep, 0 after noise).", SILENCE);
    private static final Parameter<Double> LEAD =
            Parameter.option("--lead", "S", "Silence before the first copy in seconds (default: 1).", SILENCE);
    private static final Parameter<Double> TAIL =
            Parameter.option("--tail", "S", "Silence after the last copy in seconds (default: 1).", SILENCE);
    private static final Parameter<String> LOOP = Parameter.flag(
            "--loop", "One copy and its gap, to be played in a loop; takes may begin and end anywhere in it.");
    private static final Parameter<Integer> RATE = Parameter.option(
                    "--rate",
                    "HZ",
                    "Sample rate in hertz, that of the takes.",
                    ValueFormat.choice(List.of(44_100, 48_000, 88_200, 96_000, 176_400, 192_000), Object::toString))
            .usually(48_000);
    private static final Parameter<Integer> BITS = Parameter.option(
                    "--bits", "N", "16 or 24 bits a sample.", ValueFormat.choice(List.of(16, 24), Object::toString))
            .usually(24);
    private static final Parameter<Integer> SEED = Parameter.option(
                    "--seed",
                    "N",
                    "Another number gives another noise; the same gives the same.",
                    new Range("", 0, 999_999_999, "1").whole())
            .usually(1);
    private static final Parameter<String> REPLACE = Parameter.flag("--replace", "Replace FILE if it is there.");

    StimulusCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Writes a sweep or noise to be played by any player while each take is recorded. Nothing is"
                                + " added to mark its beginning: measure finds the sound itself, wherever a take begins,"
                                + " and tells from two copies whether player and recorder ran on one clock.",
                        Usage.example("stimulus stimulus.wav --seconds 10 --level -12")
                                + Usage.EXIT_CODES
                                + Usage.CAUTIONS,
                        FILE,
                        SOUND,
                        FROM,
                        TO,
                        SECONDS,
                        LEVEL,
                        REPEATS,
                        GAP,
                        LEAD,
                        TAIL,
                        LOOP,
                        RATE,
                        BITS,
                        SEED,
                        REPLACE,
                        Parameter.JSON));
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        StimulusOutcome outcome = WriteStimulus.run(request(given));
        outcome.cautions().forEach(console::note);
        if (given.has(Parameter.JSON)) {
            new JsonObject()
                    .put("file", outcome.file())
                    .put("kind", outcome.kind())
                    .put("sample_rate", outcome.sampleRate())
                    .put("frames", outcome.frames())
                    .put("seconds", outcome.seconds())
                    .put("copies", outcome.copies())
                    .put("copy_seconds", outcome.copySeconds())
                    .put("peak_dbfs", outcome.peakDbfs())
                    .put("rms_dbfs", outcome.rmsDbfs())
                    .print(console.out());
        } else {
            print(outcome, console);
        }
        return ExitCode.DONE;
    }

    private static StimulusRequest request(Options given) throws UsageException {
        Sound sound = given.or(SOUND, Sound.SWEEP);
        boolean loop = given.has(LOOP);
        for (Parameter<?> ofCopies : List.of(REPEATS, LEAD, TAIL)) {
            if (loop && given.has(ofCopies)) {
                throw new UsageException(
                        ofCopies.name() + " has no meaning with --loop, which writes one copy; leave one out");
            }
        }
        if (sound == Sound.SWEEP && given.has(SEED)) {
            throw new UsageException("--seed has no meaning for a sweep; choose --sound pink or --sound white");
        }
        Timing usual = loop ? StimulusRequest.usualLoop(sound) : StimulusRequest.usualTiming(sound);
        double from = given.get(FROM);
        double to = given.get(TO);
        Options.requireOrder(from, to);
        return new StimulusRequest(
                given.get(FILE),
                sound,
                from,
                to,
                given.or(SECONDS, StimulusRequest.usualSeconds(sound)),
                given.get(LEVEL),
                new Timing(
                        given.or(REPEATS, usual.repeats()),
                        given.or(GAP, usual.gapSeconds()),
                        given.or(LEAD, usual.leadSeconds()),
                        given.or(TAIL, usual.tailSeconds()),
                        loop),
                given.get(RATE),
                given.get(BITS),
                given.get(SEED),
                given.has(REPLACE));
    }

    /** Lines for a reader, with what to write into the manifest. */
    private static void print(StimulusOutcome outcome, Console console) {
        console.line("written", outcome.file().toString());
        console.line("length", String.format(Locale.ROOT, "%.2f s at %d Hz", outcome.seconds(), outcome.sampleRate()));
        console.line(
                "copies", String.format(Locale.ROOT, "%d, one every %.2f s", outcome.copies(), outcome.copySeconds()));
        console.line(
                "level",
                String.format(
                        Locale.ROOT,
                        "%.1f dBFS peak, %.1f dBFS rms while it sounds",
                        outcome.peakDbfs(),
                        outcome.rmsDbfs()));
        console.line(
                "manifest",
                "stimulus: {kind: " + outcome.kind() + ", file: "
                        + outcome.file().getFileName() + "}");
    }
}
