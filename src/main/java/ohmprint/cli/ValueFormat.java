package ohmprint.cli;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import ohmprint.impedance.Permitted;
import ohmprint.text.Numbers;

/** What the text of an option, an argument or an answer means; each objection names it, the text, and what is possible. */
@FunctionalInterface
interface ValueFormat<T> {
    /** Any text. */
    ValueFormat<String> TEXT = (what, text) -> text;

    /** Principles of microphones, as sessions and the library name them. */
    List<String> TRANSDUCERS = List.of("moving-coil", "ribbon", "condenser", "other");

    /**
     * Reads it.
     *
     * @param what the option or what it belongs to, for the objection
     * @param text as it was given
     */
    T read(String what, String text) throws UsageException;

    /** A text that is not empty. */
    static ValueFormat<String> filled(String wanted) {
        return (what, text) -> {
            if (text.isEmpty()) {
                throw new UsageException(what + " is empty; give " + wanted);
            }
            return text;
        };
    }

    /**
     * A path.
     *
     * @param wanted what to give, for the objection, as in "the path of a folder"
     */
    static ValueFormat<Path> path(String wanted) {
        ValueFormat<String> filled = filled(wanted);
        return (what, text) -> {
            try {
                return Path.of(filled.read(what, text));
            } catch (InvalidPathException e) {
                throw new UsageException(what + " is " + text + ", which cannot be a path here; give " + wanted);
            }
        };
    }

    /** One of several words. */
    static ValueFormat<String> word(List<String> choice) {
        return choice(choice, word -> word);
    }

    /** One of several things that have words. */
    static <T> ValueFormat<T> choice(List<T> things, Function<T, String> word) {
        return (what, text) -> things.stream()
                .filter(thing -> word.apply(thing).equals(text))
                .findFirst()
                .orElseThrow(() -> new UsageException(what + " is " + text + "; choose "
                        + TerminalText.list(things.stream().map(word).toList(), "or")));
    }

    /** A resistance in ohms, or {@code open}, which is infinitely many. */
    static ValueFormat<Double> load(String example) {
        Range ohms = Range.of(Permitted.OHM, example);
        return (what, text) -> text.equals("open") ? (Double) Double.POSITIVE_INFINITY : ohms.read(what, text);
    }

    /**
     * A plain number.
     *
     * @param unit its unit
     * @param lowest least value
     * @param highest greatest value
     * @param example a usual value, as it is written
     */
    record Range(String unit, double lowest, double highest, String example) implements ValueFormat<Double> {
        private static final String NUMBER = "[+-]?[0-9]{1,9}(\\.[0-9]{1,9})?";

        /** Everything that is permitted in a unit. */
        static Range of(Permitted permitted, String example) {
            return new Range(permitted.unit(), permitted.least(), permitted.most(), example);
        }

        /** The same, or 0. */
        static Range from0(Permitted permitted, String example) {
            return new Range(permitted.unit(), 0, permitted.most(), example);
        }

        /** Everything above 0 to the greatest value, as far as it is permitted in the unit. */
        static Range above0(String unit, double highest, String example) {
            Permitted permitted = Permitted.ofUnit(unit);
            return new Range(unit, permitted == null ? Double.MIN_VALUE : permitted.least(), highest, example);
        }

        /** A share in percent, from 0 to below 100. */
        static Range percent(String example) {
            return new Range("%", 0, Math.nextDown(100.0), example);
        }

        @Override
        public Double read(String what, String text) throws UsageException {
            double value = text.matches(NUMBER) ? Double.parseDouble(text) : Double.NaN;
            if (!(value >= lowest && value <= highest)) {
                throw new UsageException(what + " holds " + (text.isEmpty() ? "nothing" : text)
                        + "; give a plain number " + words() + ", for example " + example);
            }
            Permitted permitted = Permitted.ofUnit(unit);
            if (value != 0 && permitted != null && !permitted.holds(value)) {
                throw new UsageException(what + " holds " + text + "; give 0 or a number from " + permitted.words()
                        + ", for example " + example);
            }
            return value;
        }

        /** Whole numbers of it. */
        ValueFormat<Integer> whole() {
            return (what, text) -> {
                double value = read(what, text);
                if (value != Math.rint(value)) {
                    throw new UsageException(what + " is " + text + "; give a whole number");
                }
                return (int) value;
            };
        }

        private String words() {
            boolean open = highest != Math.rint(highest);
            return (lowest == Double.MIN_VALUE ? "above 0 " : "from " + Numbers.exact(lowest) + " ") + unit
                    + " to "
                    + (open ? "below " + Numbers.exact(Math.ceil(highest)) : Numbers.exact(highest)) + " "
                    + unit;
        }
    }
}
