package ohmprint.cli;

import java.util.List;

/** Words in a row, for sentences. */
final class Listed {
    private Listed() {}

    /** {@code a}, {@code a or b}, {@code a, b or c}: commas, and the given word before the last. */
    static String of(List<String> words, String joint) {
        int last = words.size() - 1;
        return last < 1
                ? String.join("", words)
                : String.join(", ", words.subList(0, last)) + " " + joint + " " + words.get(last);
    }
}
