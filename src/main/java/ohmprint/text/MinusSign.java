package ohmprint.text;

import java.util.regex.Pattern;

/**
 * Numbers as people read them on a sheet or a picture: with a minus sign, U+2212, which is as wide as a plus and is not torn
 * from its digits at the end of a line. Files, tables and the terminal keep the hyphen, which other programs understand.
 */
public final class MinusSign {
    private static final Pattern HYPHEN = Pattern.compile("(?<=^|[\\s(])-(?=[0-9])");

    private MinusSign() {}

    /** The same number with a minus sign in place of a hyphen. */
    public static String in(String number) {
        return number.replace('-', '−');
    }

    /** The same sentence with minus signs before its numbers; names such as {@code take-1.wav} stay as they are. */
    public static String inSentence(String sentence) {
        return HYPHEN.matcher(sentence).replaceAll("−");
    }
}
