package ohmprint.cli;

import java.util.Arrays;
import java.util.List;
import ohmprint.app.stimulus.StimulusRequest;
import ohmprint.app.stimulus.StimulusRequest.Sound;
import ohmprint.app.stimulus.StimulusRequest.Timing;
import ohmprint.cli.Options.Range;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** The options of {@code stimulus}, read as text and turned into a request. */
final class StimulusOptions {
    private static final Range HERTZ = Range.above0("Hz", 96_000, "20");
    private static final Range LENGTH = new Range("s", 0.5, 60, "6");
    private static final Range SILENCE = new Range("s", 0, 30, "1");
    private static final Range LEVEL = new Range("dBFS", -60, 0, "-6");
    private static final Range SEED = new Range("", 0, 999_999_999, "1");
    private static final Range REPEATS = new Range("copies", 1, 100, "2");
    private static final List<String> RATES = List.of("44100", "48000", "88200", "96000", "176400", "192000");
    private static final List<String> BITS = List.of("16", "24");
    private static final List<String> OF_COPIES = List.of("--repeats", "--lead", "--tail");

    private StimulusOptions() {}

    static StimulusRequest request(ParseResult given) throws UsageException {
        Options options = Options.of(given);
        Sound sound = sound(options);
        boolean loop = options.has("--loop");
        for (String option : OF_COPIES) {
            if (loop && options.has(option)) {
                throw new UsageException(option + " has no meaning with --loop, which writes one copy; leave one out");
            }
        }
        if (sound == Sound.SWEEP && options.has("--seed")) {
            throw new UsageException("--seed has no meaning for a sweep; choose --sound pink or --sound white");
        }
        Timing usual = loop ? StimulusRequest.usualLoop(sound) : StimulusRequest.usualTiming(sound);
        double from = or(options.number("--from", HERTZ), 20);
        double to = or(options.number("--to", HERTZ), 20_000);
        if (from >= to) {
            throw new UsageException("--from is " + Options.plain(from) + " Hz and --to is " + Options.plain(to)
                    + " Hz; give --from the lower frequency");
        }
        return new StimulusRequest(
                Options.path("FILE", options.argument(0), "the path of a WAV file"),
                sound,
                from,
                to,
                or(options.number("--seconds", LENGTH), StimulusRequest.usualSeconds(sound)),
                or(options.number("--level", LEVEL), -6),
                new Timing(
                        whole("--repeats", options.number("--repeats", REPEATS), usual.repeats()),
                        or(options.number("--gap", SILENCE), usual.gapSeconds()),
                        or(options.number("--lead", SILENCE), usual.leadSeconds()),
                        or(options.number("--tail", SILENCE), usual.tailSeconds()),
                        loop),
                Integer.parseInt(or(options.word("--rate", RATES), "48000")),
                Integer.parseInt(or(options.word("--bits", BITS), "24")),
                whole("--seed", options.number("--seed", SEED), 1),
                options.has("--replace"));
    }

    private static Sound sound(Options options) throws UsageException {
        List<String> words = Arrays.stream(Sound.values()).map(Sound::word).toList();
        String word = options.word("--sound", words);
        return Arrays.stream(Sound.values())
                .filter(sound -> sound.word().equals(word))
                .findFirst()
                .orElse(Sound.SWEEP);
    }

    private static int whole(String option, @Nullable Double value, int otherwise) throws UsageException {
        if (value != null && value != Math.rint(value)) {
            throw new UsageException(option + " is " + Options.plain(value) + "; give a whole number");
        }
        return value == null ? otherwise : value.intValue();
    }

    private static double or(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }

    private static String or(@Nullable String value, String otherwise) {
        return value == null ? otherwise : value;
    }
}
