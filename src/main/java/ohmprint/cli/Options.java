package ohmprint.cli;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** Values of options, read from their text; every objection names option, value, unit and what is possible. */
record Options(ParseResult given) {
    private static final Pattern NUMBER = Pattern.compile("[+-]?[0-9]{1,9}(\\.[0-9]{1,9})?");

    /** The options of one call. */
    static Options of(ParseResult given) {
        return new Options(given);
    }

    /** True when the option is there. */
    boolean has(String option) {
        return given.hasMatchedOption(option);
    }

    /** The text of an option, or null when it is not there. */
    @Nullable
    String text(String option) {
        return has(option) ? given.<String>matchedOptionValue(option, "") : null;
    }

    /** The texts of an option that may be given several times; none when it is not there. */
    List<String> texts(String option) {
        return has(option) ? List.of(given.<String[]>matchedOptionValue(option, new String[0])) : List.of();
    }

    /** The argument at a place, counted from 0; empty when it is not there. */
    String argument(int place) {
        return given.matchedPositionalValue(place, "");
    }

    /** All arguments where any number may be given. */
    List<String> arguments() {
        return List.of(given.matchedPositionalValue(0, new String[0]));
    }

    /**
     * A number of an option in a range, or null when the option is not there.
     *
     * @param range what is possible
     */
    @Nullable
    Double number(String option, Range range) throws UsageException {
        String text = text(option);
        return text == null ? null : parsed(option, text, range);
    }

    /** Numbers separated by commas, none when the option is not there. */
    List<Double> numbers(String option, Range range) throws UsageException {
        List<Double> out = new ArrayList<>();
        String text = text(option);
        if (text != null) {
            for (String part : text.split(",", -1)) {
                out.add(parsed(option, part.strip(), range));
            }
        }
        return out;
    }

    /**
     * A number in a range.
     *
     * @param what option or part of it, for the message
     * @param text as it was given
     */
    static double parsed(String what, String text, Range range) throws UsageException {
        double value = NUMBER.matcher(text).matches() ? Double.parseDouble(text) : Double.NaN;
        if (!range.holds(value)) {
            throw new UsageException(what + " holds " + (text.isEmpty() ? "nothing" : text) + "; give a plain number "
                    + range.words() + ", for example " + range.example());
        }
        Permitted permitted = Permitted.ofUnit(range.unit());
        if (value != 0 && permitted != null && !permitted.holds(value)) {
            throw new UsageException(what + " holds " + text + "; give 0 or a number from " + permitted.words()
                    + ", for example " + range.example());
        }
        return value;
    }

    /**
     * One of several words, or null when the option is not there.
     *
     * @param choice the words that are possible
     */
    @Nullable
    String word(String option, List<String> choice) throws UsageException {
        String text = text(option);
        if (text != null && !choice.contains(text)) {
            throw new UsageException(option + " is " + text + "; choose " + Listed.of(choice, "or"));
        }
        return text;
    }

    /**
     * A path of an option, or null when the option is not there.
     *
     * @param wanted what to give, for the message, as in "the path of a folder"
     */
    @Nullable
    Path path(String option, String wanted) throws UsageException {
        String text = text(option);
        return text == null ? null : path(option, text, wanted);
    }

    /** A text as a path. */
    static Path path(String what, String text, String wanted) throws UsageException {
        if (text.isEmpty()) {
            throw new UsageException(what + " is empty; give " + wanted);
        }
        try {
            return Path.of(text);
        } catch (InvalidPathException e) {
            throw new UsageException(what + " is " + text + ", which cannot be a path here; give " + wanted);
        }
    }

    /**
     * What a number may be.
     *
     * @param unit its unit
     * @param lowest least value
     * @param highest greatest value
     * @param example a usual value, as it is written
     */
    record Range(String unit, double lowest, double highest, String example) {
        /** Everything above 0 to the greatest value, as far as it is permitted in the unit. */
        static Range above0(String unit, double highest, String example) {
            Permitted permitted = Permitted.ofUnit(unit);
            return new Range(unit, permitted == null ? Double.MIN_VALUE : permitted.least(), highest, example);
        }

        /** A share in percent, from 0 to below 100. */
        static Range percent(String example) {
            return new Range("%", 0, Math.nextDown(100.0), example);
        }

        boolean holds(double value) {
            return value >= lowest && value <= highest;
        }

        String words() {
            boolean open = highest != Math.rint(highest);
            return (lowest == Double.MIN_VALUE ? "above 0 " : "from " + plain(lowest) + " ") + unit + " to "
                    + (open ? "below " + plain(Math.ceil(highest)) : plain(highest)) + " " + unit;
        }
    }

    /** A number without a point when it is whole. */
    static String plain(double value) {
        return value == Math.rint(value) && Math.abs(value) < 1e15
                ? Long.toString((long) value)
                : Double.toString(value);
    }
}
