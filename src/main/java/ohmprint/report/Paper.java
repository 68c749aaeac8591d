package ohmprint.report;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Sizes of paper. Source: ISO 216 and ANSI/ASME Y14.1, recalled from memory. */
public enum Paper {
    /** 210 mm × 297 mm. */
    A4,
    /** 8.5 in × 11 in. */
    LETTER;

    /** The word for it. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** All words. */
    public static List<String> words() {
        return Arrays.stream(values()).map(Paper::word).toList();
    }

    /** The size with that word. */
    public static Optional<Paper> of(String word) {
        return Arrays.stream(values()).filter(p -> p.word().equals(word)).findFirst();
    }

    String css() {
        return this == A4 ? "A4" : "letter";
    }
}
