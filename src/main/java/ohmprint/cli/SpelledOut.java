package ohmprint.cli;

import java.io.FilterWriter;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.CharsetEncoder;

/** Writes what an encoding lacks in characters that it has: {@code Ω} as {@code ohm}. */
final class SpelledOut extends FilterWriter {
    private final CharsetEncoder encoder;

    /**
     * A writer in front of another.
     *
     * @param next receives only characters that can be encoded
     * @param encoder of the encoding in which {@code next} writes
     */
    SpelledOut(Writer next, CharsetEncoder encoder) {
        super(next);
        this.encoder = encoder;
    }

    @Override
    public void write(int c) throws IOException {
        char given = (char) c;
        if (encoder.canEncode(given)) {
            out.write(given);
        } else if (!Character.isLowSurrogate(given)) {
            out.write(words(given));
        }
    }

    @Override
    public void write(char[] text, int from, int length) throws IOException {
        for (int i = from; i < from + length; i++) {
            write(text[i]);
        }
    }

    @Override
    public void write(String text, int from, int length) throws IOException {
        for (int i = from; i < from + length; i++) {
            write(text.charAt(i));
        }
    }

    private static String words(char c) {
        return switch (c) {
            case 'Ω' -> "ohm";
            case '°' -> "deg";
            case '±' -> "+/-";
            case 'µ', 'μ' -> "u";
            case '²' -> "^2";
            case '∥' -> "||";
            case '√' -> "sqrt ";
            case '×', '·' -> "x";
            case '–', '−', '‑' -> "-";
            case '≤' -> "<=";
            case '≥' -> ">=";
            case '≈' -> "about ";
            case '…' -> "...";
            case '’', '‘' -> "'";
            case '“', '”' -> "\"";
            case '\u00a0', '\u202f' -> " ";
            default -> "?";
        };
    }
}
