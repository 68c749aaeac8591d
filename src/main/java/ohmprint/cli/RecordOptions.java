package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import ohmprint.app.record.RecordRequest;
import ohmprint.cli.Options.Range;
import ohmprint.curve.Microphone;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;

/** Reads the options of {@code record}, and asks for what a new session lacks. */
final class RecordOptions {
    private static final double HIGHEST_OHM = Permitted.OHM.most();
    private static final double HIGHEST_PF = Permitted.PICOFARAD.most();
    private static final double HIGHEST_HZ = Permitted.HERTZ.most();
    private static final double LONGEST_SECONDS = 120;
    private static final double LONGEST_WAIT = 86_400;
    private static final int MOST_CHANNELS = 32;
    private static final String ANSWER = "the answer";
    private static final String UNKNOWN = "unknown";
    private static final List<String> TRANSDUCERS = List.of("moving-coil", "ribbon", "condenser", "other");

    private final Options options;

    RecordOptions(Options options) {
        this.options = options;
    }

    boolean unattended() {
        return options.has("--yes");
    }

    boolean levelCheck() {
        return !options.has("--no-level-check");
    }

    /** Seconds to wait for a load; NaN for a line on standard input. */
    double waiting() throws UsageException {
        String text = options.text("--wait");
        return text == null || text.equals("line")
                ? Double.NaN
                : Options.parsed("--wait", text, new Range("s", 0, LONGEST_WAIT, "10"));
    }

    /** What {@code record} was asked to do. */
    RecordRequest request(Answers answers) throws UsageException, IOException {
        for (String only : List.of("--wait", "--no-level-check")) {
            if (options.has(only) && !unattended()) {
                throw new UsageException(only + " is for unattended recording; give --yes too, or leave it out");
            }
        }
        waiting();
        Path folder = Options.path("SESSION", options.argument(0), "the path of a folder");
        boolean begun = Files.exists(folder.resolve("session.yaml"));
        // Every option is read before anything is asked, so that no answer is given in vain.
        RecordRequest.Sound sound = sound();
        RecordRequest.Bench bench = bench();
        Double expected = ohm("--expect");
        tolerance();
        RecordRequest.Loads loads = loads("--loads", options.text("--loads"));
        Microphone microphone = microphone();
        RecordRequest.Input input = input("--input", options.text("--input"));
        if (!begun && !unattended()) {
            if (microphone == null) {
                microphone = answers.read("Microphone, what the bench calls it:", RecordOptions::named);
            }
            if (input == null) {
                input = answers.read(
                        "Resistance of the recording input in ohms, or unknown:",
                        text -> Objects.requireNonNull(input(ANSWER, text)));
            }
            if (loads == null) {
                loads = answers.read(
                        "Loads in ohms in the order of the takes, such as 150,1500,open:",
                        text -> Objects.requireNonNull(loads(ANSWER, text)));
            }
        }
        if (!begun) {
            requireAll(microphone, input, loads);
        }
        return new RecordRequest(folder, microphone, input, loads, sound, bench, expected);
    }

    private void requireAll(
            @Nullable Microphone microphone, RecordRequest.@Nullable Input input, RecordRequest.@Nullable Loads loads)
            throws UsageException {
        List<String> missing = new ArrayList<>();
        if (microphone == null) {
            missing.add("--label");
        }
        if (input == null) {
            missing.add("--input");
        }
        if (loads == null) {
            missing.add("--loads");
        }
        if (!missing.isEmpty()) {
            throw new UsageException("a new session needs " + Listed.of(missing, "and")
                    + "; for example --label \"Bench" + " ribbon 7\" --input 3000 --loads 150,1500");
        }
    }

    private @Nullable Microphone microphone() throws UsageException {
        String label = options.text("--label");
        String transducer = options.word("--transducer", TRANSDUCERS);
        Double rated = ohm("--rated");
        Double least = ohm("--minimum-load");
        String serial = options.text("--serial");
        if (label == null) {
            if (transducer != null || rated != null || least != null || serial != null) {
                throw new UsageException("the microphone has no name; give --label too");
            }
            return null;
        }
        return new Microphone(label("--label", label), null, null, serial, transducer, rated, least, null);
    }

    private static Microphone named(String label) throws UsageException {
        return new Microphone(label(ANSWER, label), null, null, null, null, null, null, null);
    }

    private static String label(String what, String text) throws UsageException {
        if (text.isBlank()) {
            throw new UsageException(what + " is empty; give what the bench calls the microphone");
        }
        return text;
    }

    private RecordRequest.@Nullable Input input(String what, @Nullable String text) throws UsageException {
        if (text == null) {
            for (String of : List.of("--input-tolerance", "--input-pf")) {
                if (options.has(of)) {
                    throw new UsageException(of + " is given without --input; give the resistance too, or unknown");
                }
            }
            return null;
        }
        double ohm = text.equals(UNKNOWN)
                ? Double.NaN
                : Options.parsed(what, text, Range.above0("Ω", HIGHEST_OHM, "3000, or unknown"));
        RecordRequest.Input usual = RecordRequest.Input.ofOhms(ohm);
        Double tolerance = options.number("--input-tolerance", Range.percent("5"));
        Double pf = options.number("--input-pf", new Range("pF", 0, HIGHEST_PF, "470"));
        return new RecordRequest.Input(
                ohm, tolerance == null ? usual.tolerancePercent() : tolerance, pf == null ? usual.pf() : pf);
    }

    private RecordRequest.@Nullable Loads loads(String what, @Nullable String text) throws UsageException {
        if (text == null) {
            return null;
        }
        List<Double> ohms = new ArrayList<>();
        for (String part : text.split(",", -1)) {
            String value = part.strip();
            ohms.add(
                    value.equals("open")
                            ? Double.POSITIVE_INFINITY
                            : Options.parsed(what, value, Range.above0("Ω", HIGHEST_OHM, "150,1500,open")));
        }
        if (ohms.stream().distinct().count() < 2) {
            throw new UsageException(what + " is " + text + "; give two or more different loads, for example 150,1500");
        }
        Double tolerance = tolerance();
        return new RecordRequest.Loads(
                ohms,
                tolerance == null ? RecordRequest.Loads.ofOhms().tolerancePercent() : tolerance,
                !options.has("--no-repeat"));
    }

    private @Nullable Double tolerance() throws UsageException {
        return options.number("--tolerance", Range.percent("1"));
    }

    private RecordRequest.@Nullable Sound sound() throws UsageException {
        Path file = options.path("--stimulus", "the path of a sound file");
        String kind = options.word("--sound", List.of("sweep", "noise"));
        Double seconds = options.number("--seconds", Range.above0("s", LONGEST_SECONDS, "8"));
        Double from = options.number("--from", Range.above0("Hz", HIGHEST_HZ, "20"));
        Double to = options.number("--to", Range.above0("Hz", HIGHEST_HZ, "20000"));
        Double level = options.number("--level", new Range("dBFS", -80, 0, "-12"));
        boolean made = seconds != null || from != null || to != null || level != null;
        if (file != null && made) {
            throw new UsageException("--stimulus is played as it is; leave out --seconds, --from, --to and --level");
        }
        boolean noise = "noise".equals(kind);
        if (noise && (from != null || to != null)) {
            throw new UsageException("--from and --to are for a sweep; noise covers the whole range");
        }
        if (file == null && kind == null && !made) {
            return null;
        }
        RecordRequest.Sound usual = RecordRequest.Sound.USUAL;
        double low = from == null ? usual.fromHz() : from;
        double high = to == null ? usual.toHz() : to;
        if (low >= high) {
            throw new UsageException("--from is " + Options.plain(low) + " Hz and --to is " + Options.plain(high)
                    + " Hz; give --from the lower frequency");
        }
        return new RecordRequest.Sound(
                file,
                noise,
                seconds == null ? usual.seconds() : seconds,
                low,
                high,
                level == null ? usual.peakDbfs() : level);
    }

    private RecordRequest.Bench bench() throws UsageException {
        return new RecordRequest.Bench(
                options.text("--in"),
                options.text("--out"),
                whole("--rate", new Range("Hz", 8000, 768_000, "48000")),
                whole("--channels", new Range("channels", 1, MOST_CHANNELS, "2")),
                whole("--channel", new Range("channel", 1, MOST_CHANNELS, "1")),
                whole("--reference", new Range("channel", 1, MOST_CHANNELS, "2")),
                options.number("--lead", new Range("s", 0.3, LONGEST_SECONDS, "1")),
                options.number("--tail", new Range("s", 0.3, LONGEST_SECONDS, "0.7")));
    }

    private @Nullable Integer whole(String option, Range range) throws UsageException {
        Double value = options.number(option, range);
        if (value != null && value != Math.rint(value)) {
            throw new UsageException(option + " is " + options.text(option) + "; give a whole number");
        }
        return value == null ? null : (Integer) value.intValue();
    }

    private @Nullable Double ohm(String option) throws UsageException {
        return options.number(option, Range.above0("Ω", HIGHEST_OHM, "200"));
    }
}
