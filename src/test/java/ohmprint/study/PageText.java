package ohmprint.study;

import java.util.Locale;

/** A page of Markdown that grows line by line. */
final class PageText {
    private final StringBuilder text = new StringBuilder();

    /** Adds a line. */
    void line(String words) {
        text.append(words).append('\n');
    }

    /** Adds a line in this format. */
    void say(String format, Object... values) {
        line(String.format(Locale.ROOT, format, values));
    }

    @Override
    public String toString() {
        return text.toString();
    }
}
