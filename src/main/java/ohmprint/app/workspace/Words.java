package ohmprint.app.workspace;

import java.math.BigDecimal;
import java.math.MathContext;
import java.text.Normalizer;
import java.util.Locale;

/** Values in words, and words as names of folders. */
final class Words {
    private static final int DIGITS = 6;
    private static final int LONGEST = 60;

    private Words() {}

    /** A number without a point when it is whole. */
    static String plain(double value) {
        return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
    }

    /** A load: {@code 220 Ω}, {@code open}. */
    static String ohms(double ohm) {
        return Double.isInfinite(ohm)
                ? "open"
                : new BigDecimal(ohm)
                                .round(new MathContext(DIGITS))
                                .stripTrailingZeros()
                                .toPlainString() + " Ω";
    }

    /** A label as the name of a folder: lower-case letters and digits with hyphens between. */
    static String folder(String label) {
        String plain = Normalizer.normalize(label, Normalizer.Form.NFD)
                .toLowerCase(Locale.ROOT)
                .replaceAll("\\p{M}", "")
                .replaceAll("[^a-z0-9]+", "-")
                .replaceAll("^-|-$", "");
        String part = plain.substring(0, Math.min(LONGEST, plain.length()));
        return part.isEmpty() ? "session" : part;
    }
}
