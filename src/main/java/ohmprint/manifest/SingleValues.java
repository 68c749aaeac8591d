package ohmprint.manifest;

import java.math.BigDecimal;
import java.util.List;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.ScalarNode;

/**
 * The values of a mapping that are one text or number each, read strictly. Each getter returns null when the key is absent
 * or its value is wrong; what is wrong is reported with what to write instead.
 */
final class SingleValues {
    private static final int LONGEST_TEXT = 10_000;

    private final Entries entries;

    SingleValues(Entries entries) {
        this.entries = entries;
    }

    /** A text of one line or more. */
    @Nullable
    String text(String key) {
        String value = scalar(key, "text");
        if (value != null && value.length() > LONGEST_TEXT) {
            entries.report(key, "has " + value.length() + " characters; shorten it to " + LONGEST_TEXT);
            return null;
        }
        return value;
    }

    /** One of a few words. */
    @Nullable
    String word(String key, List<String> words) {
        String value = scalar(key, "one of " + String.join(", ", words));
        if (value != null && !words.contains(value)) {
            entries.report(key, "is '" + Problems.shown(value) + "'; write one of " + String.join(", ", words));
            return null;
        }
        return value;
    }

    /** A number above zero, in the given unit and within what is permitted of it. */
    @Nullable
    Double positive(String key, String unit, String alternative) {
        Double value = number(key, unit, alternative);
        if (value != null && !(value > 0)) {
            entries.report(
                    key, "is " + entries.shown(key) + " " + unit + "; give a number above 0 " + unit + alternative);
            return null;
        }
        return value == null || permitted(key, value, Permitted.ofUnit(unit), alternative) ? value : null;
    }

    /** A number from zero to below a limit, in the given unit; one other than zero within what is permitted of it. */
    @Nullable
    Double fromZero(String key, double limit, String unit) {
        return fromZero(key, limit, unit, Permitted.ofUnit(unit));
    }

    /** The same where another range is permitted than is usual in the unit. */
    @Nullable
    Double fromZero(String key, double limit, String unit, @Nullable Permitted range) {
        String limits = "from 0 " + unit + (limit < Double.MAX_VALUE ? " to below " + plain(limit) + " " + unit : "");
        Double value = number(key, unit, "");
        if (value != null && !(value >= 0 && value < limit)) {
            entries.report(key, "is " + entries.shown(key) + " " + unit + "; give a number " + limits);
            return null;
        }
        return value == null || value == 0 || permitted(key, value, range, ", or 0") ? value : null;
    }

    private boolean permitted(String key, double value, @Nullable Permitted range, String alternative) {
        if (range == null || range.holds(value)) {
            return true;
        }
        entries.report(
                key,
                "is " + entries.shown(key) + " " + range.unit() + "; give a number from " + range.words()
                        + alternative);
        return false;
    }

    /** A channel number from 1. */
    @Nullable
    Integer channel(String key) {
        String value = scalar(key, "a channel number");
        if (value == null) {
            return null;
        }
        if (YamlValue.isQuoted(entries.value(key)) || !value.matches("[1-9]\\d{0,5}")) {
            entries.report(key, "is " + entries.shown(key) + "; channels count 1, 2, 3 …, give one of the file's");
            return null;
        }
        return Integer.valueOf(value);
    }

    /** Any number, in the given unit. */
    @Nullable
    Double number(String key, String unit, String alternative) {
        String value = scalar(key, "a number of " + unit + alternative);
        if (value == null) {
            return null;
        }
        String wrong = YamlValue.isQuoted(entries.value(key)) ? "" : PlainNumber.complaint(value);
        if (wrong != null) {
            entries.report(
                    key,
                    "is " + entries.shown(key) + wrong + "; give a plain number in " + unit
                            + ", such as 1500 or 99.8, without unit or separators" + alternative);
            return null;
        }
        return Double.valueOf(value);
    }

    private @Nullable String scalar(String key, String wanted) {
        Node value = entries.value(key);
        if (value == null) {
            return null;
        }
        if (!(value instanceof ScalarNode scalar)) {
            entries.report(key, "is " + YamlValue.describe(value) + "; give " + wanted);
            return null;
        }
        if (scalar.getValue().isBlank() || YamlValue.isNull(scalar)) {
            entries.report(key, "is empty; give " + wanted + ", or delete the key");
            return null;
        }
        return scalar.getValue();
    }

    private static String plain(double value) {
        return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }
}
