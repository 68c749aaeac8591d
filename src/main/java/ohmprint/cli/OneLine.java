package ohmprint.cli;

/** Text from outside, made fit for one line of a terminal. */
final class OneLine {
    private OneLine() {}

    /** The text with line ends and other control characters, which could steer a terminal, as spaces. */
    static String of(String text) {
        StringBuilder line = new StringBuilder(text.length());
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            line.append(Character.isISOControl(c) || c == '\u2028' || c == '\u2029' ? ' ' : c);
        }
        return line.toString();
    }
}
