package ohmprint.cli;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.FileDescriptor;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.FilterWriter;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.Charset;
import java.nio.charset.CharsetEncoder;
import java.nio.charset.StandardCharsets;

/**
 * Standard output and standard error in a definite encoding: UTF-8 into files and pipes whatever the locale, and on a
 * terminal what that declares, with characters it lacks spelled out.
 */
final class StandardStreams {
    private StandardStreams() {}

    /** Standard output. */
    static PrintWriter out() {
        return writer(FileDescriptor.out, encoding(1, "stdout.encoding", "sun.stdout.encoding"));
    }

    /** Standard error. */
    static PrintWriter err() {
        return writer(FileDescriptor.err, encoding(2, "stderr.encoding", "sun.stderr.encoding"));
    }

    /** Standard input, in the encoding of the platform. */
    static BufferedReader in() {
        return new BufferedReader(
                new InputStreamReader(new FileInputStream(FileDescriptor.in), Charset.defaultCharset()));
    }

    private static PrintWriter writer(FileDescriptor target, Charset charset) {
        OutputStreamWriter bytes = new OutputStreamWriter(new FileOutputStream(target), charset);
        CharsetEncoder encoder = charset.newEncoder();
        BufferedWriter buffered = new BufferedWriter(bytes);
        return new PrintWriter(
                encoder.canEncode('Ω') && encoder.canEncode('∥') ? buffered : new AsciiFallback(buffered, encoder));
    }

    /** The names of the properties differ between Java versions. */
    private static Charset encoding(int descriptor, String... properties) {
        if (Environment.isTerminal(descriptor)) {
            for (String property : properties) {
                String name = System.getProperty(property);
                if (name != null && Charset.isSupported(name)) {
                    return Charset.forName(name);
                }
            }
        }
        return StandardCharsets.UTF_8;
    }

    /** Writes what an encoding lacks in characters that it has: {@code Ω} as {@code ohm}. */
    static final class AsciiFallback extends FilterWriter {
        private final CharsetEncoder encoder;

        /**
         * A writer in front of another.
         *
         * @param next receives only characters that can be encoded
         * @param encoder of the encoding in which {@code next} writes
         */
        AsciiFallback(Writer next, CharsetEncoder encoder) {
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
}
