package ohmprint.session;

import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import ohmprint.circuit.Dual;
import ohmprint.circuit.Load;
import ohmprint.impedance.Permitted;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/** The {@code takes} of a manifest, and what they must have between them. */
final class TakeList {
    /** Value of {@code load_ohm} for a take without a resistor. */
    static final String OPEN = "open";

    private static final String KEY = "takes";

    private TakeList() {}

    /**
     * One take.
     *
     * @param section where it stands, for messages
     * @param take what it says
     */
    record Item(Section section, Take take) {}

    /** The resistor of a take as it is described in the manifest, and how messages name it. */
    private enum Resistor {
        /** A load across the microphone. */
        LOAD("load_ohm", "load", "loads", "the source impedance"),
        /** A resistor in series with an input, kept as the load that stands for it, see {@link Dual}. */
        SERIES("series_ohm", "series resistor", "series resistors", "the input impedance");

        private final String ohm;
        private final String tolerance;
        private final String uncertainty;
        private final String one;
        private final String several;
        private final String sought;

        /**
         * A kind of resistor.
         *
         * @param ohm key of the resistance; those of its tolerance and uncertainty begin alike
         * @param one one of them
         * @param several several
         * @param sought what they are there for
         */
        Resistor(String ohm, String one, String several, String sought) {
            this.ohm = ohm;
            this.tolerance = ohm.replace("_ohm", "_tolerance_percent");
            this.uncertainty = ohm.replace("_ohm", "_u_ohm");
            this.one = one;
            this.several = several;
            this.sought = sought;
        }

        /** The keys that a take may have. */
        List<String> keys() {
            return this == LOAD
                    ? List.of("file", ohm, tolerance, uncertainty, "channel", "reference_channel", "note", "time")
                    : List.of("file", ohm, tolerance, uncertainty, "channel", "note", "time");
        }

        /** Null when something is wrong with it, which goes to the problems. */
        @Nullable
        Load read(Section part) {
            Double percent = part.fromZero(tolerance, 100, "%");
            Double u = part.zeroOrWithin(uncertainty, Permitted.UNCERTAINTY_OHM);
            if (!part.require(
                    ohm,
                    this == LOAD
                            ? "give the resistor in ohms, or open"
                            : "give the resistor between generator and input in ohms, or 0 for none")) {
                return null;
            }
            if (this == LOAD && part.isWord(ohm, OPEN)) {
                if (part.has(uncertainty)) {
                    part.report(uncertainty, "has no meaning for an open take; delete it");
                }
                return Load.open();
            }
            Double value = this == LOAD
                    ? part.positive(ohm, "Ω", ", or open")
                    : part.fromZero(ohm, Double.POSITIVE_INFINITY, "Ω");
            if (part.has(tolerance) && part.has(uncertainty)) {
                part.report(uncertainty, "is given beside " + tolerance + "; keep one of the two");
            }
            if (value == null || (part.has(uncertainty) && u == null)) {
                return null;
            }
            if (value == 0 && part.has(uncertainty)) {
                part.report(uncertainty, "has no meaning without a resistor; delete it");
                return null;
            }
            if (u == null) {
                double tolerated = percent == null ? Assumed.LOAD_TOLERANCE_PERCENT : percent;
                return this == LOAD ? Load.ofOhms(value, tolerated) : Dual.series(value, tolerated);
            }
            if (u >= value) {
                part.report(
                        uncertainty,
                        "is " + part.shown(uncertainty) + " Ω, not below " + ohm
                                + "; give the standard uncertainty of the " + (this == LOAD ? "load" : "resistor")
                                + " in ohms");
                return null;
            }
            return this == LOAD ? Load.measured(value, u) : Dual.measuredSeries(value, u);
        }
    }

    /**
     * The takes that nothing is wrong with.
     *
     * @param finished whether there must be enough of them for a measurement
     */
    static List<Item> read(Section manifest, boolean finished) {
        return read(manifest, finished, Resistor.LOAD);
    }

    /** Takes through resistors in series with an input, enough of them for a measurement. */
    static List<Item> ofSeries(Section manifest) {
        return read(manifest, true, Resistor.SERIES);
    }

    private static List<Item> read(Section manifest, boolean finished, Resistor kind) {
        String wanted = "write a list of takes, each with file and " + kind.ohm;
        List<@Nullable Item> items = manifest.require(KEY, wanted)
                ? manifest.items(KEY, wanted, kind.keys(), part -> item(part, kind))
                : null;
        if (items == null) {
            return List.of();
        }
        List<Item> takes = items.stream().filter(Objects::nonNull).toList();
        sameRecordingTwice(takes);
        if (finished && items.size() < 2) {
            manifest.report(
                    KEY,
                    "holds " + (items.isEmpty() ? "no take" : "one take") + "; two or more with different "
                            + kind.several + " are needed, record another");
        } else if (finished && takes.size() == items.size()) {
            oneLoadOnly(takes, kind);
        }
        return takes;
    }

    private static @Nullable Item item(Section part, Resistor kind) {
        part.require("file", "name the recording");
        String file = part.text("file");
        Load load = kind.read(part);
        Integer channel = part.has("channel") ? part.channel("channel") : Integer.valueOf(1);
        Integer reference = part.channel("reference_channel");
        if (channel != null && channel.equals(reference)) {
            part.report(
                    "reference_channel",
                    "is " + reference + ", the channel of the microphone itself; give the channel that hears the "
                            + "source but not the load, or delete the key");
        }
        String note = part.text("note");
        OffsetDateTime time = time(part);
        return file == null || load == null || channel == null
                ? null
                : new Item(part, new Take(file, load, channel, reference, note, time));
    }

    private static @Nullable OffsetDateTime time(Section part) {
        String text = part.text("time");
        if (text == null) {
            return null;
        }
        try {
            return OffsetDateTime.parse(text);
        } catch (DateTimeParseException e) {
            part.report(
                    "time",
                    "is '" + Problems.shown(text) + "'; write date, time and offset like 2031-05-04T16:20:00+02:00");
            return null;
        }
    }

    private static void sameRecordingTwice(List<Item> takes) {
        Map<String, Integer> seen = new HashMap<>();
        for (Item t : takes) {
            String recording = t.take().file() + "\n" + t.take().channel();
            int line = t.section().lineOf("file");
            Integer first = seen.putIfAbsent(recording, line);
            if (first != null) {
                t.section()
                        .report(
                                "file",
                                "is " + Problems.shown(t.take().file()) + ", channel "
                                        + t.take().channel() + ", which is used already on line " + first
                                        + "; name another recording");
            }
        }
    }

    /** Loads count as different by their value alone: two resistors of one value see the source alike. */
    private static void oneLoadOnly(List<Item> takes, Resistor kind) {
        long different =
                takes.stream().map(t -> t.take().load().ohm()).distinct().count();
        if (different < 2) {
            Item second = takes.get(1);
            String given = second.section().shown(kind.ohm);
            second.section()
                    .report(
                            kind.ohm,
                            "is " + inOhms(given) + " like all other "
                                    + kind.several + "; a repeated " + kind.one + " tells nothing of "
                                    + kind.sought + ", record a take with another " + kind.one);
        }
    }

    /** A resistance as given, without a decimal part that says nothing; a word stays a word. */
    private static String inOhms(String given) {
        return given.matches("[0-9.]+") ? given.replaceFirst("\\.0*$", "") + " Ω" : given.replace("'", "");
    }
}
