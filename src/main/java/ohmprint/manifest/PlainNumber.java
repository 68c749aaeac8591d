package ohmprint.manifest;

import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** A decimal number as people write it: digits, one point, perhaps an exponent; nothing that can be read in two ways. */
final class PlainNumber {
    private static final Pattern NUMBER = Pattern.compile("[-+]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][-+]?\\d{1,4})?");
    private static final Pattern LEADING_ZERO = Pattern.compile("[-+]?0\\d.*");
    private static final int MOST_CHARACTERS = 60;

    private PlainNumber() {}

    /** True for the form of a number, whatever its size. */
    static boolean isNumber(String text) {
        return text.length() <= MOST_CHARACTERS && NUMBER.matcher(text).matches();
    }

    /** What is wrong with a text as a number, to follow the text; null when nothing is. */
    static @Nullable String complaint(String text) {
        if (!isNumber(text)) {
            return "";
        }
        // Some readers of YAML take 0150 as octal: 104.
        if (LEADING_ZERO.matcher(text).matches()) {
            return ", which can be read in two ways with its leading zero";
        }
        return Double.isInfinite(Double.parseDouble(text)) ? ", too large" : null;
    }
}
