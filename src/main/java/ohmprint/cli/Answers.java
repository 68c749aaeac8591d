package ohmprint.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.Locale;

/** Questions on standard error, answers from standard input. */
final class Answers {
    private final BufferedReader in;
    private final PrintWriter err;

    Answers(BufferedReader in, PrintWriter err) {
        this.in = in;
        this.err = err;
    }

    /** Standard input has ended while an answer was wanted. */
    static final class EndedException extends IOException {
        private static final long serialVersionUID = 1;

        EndedException(String question) {
            super("standard input ended at: " + question);
        }
    }

    /** A line, without blanks around it. */
    String line(String question) throws IOException {
        err.print(question + " ");
        err.flush();
        String line = in.readLine();
        if (line == null) {
            err.println();
            throw new EndedException(question);
        }
        return line.strip();
    }

    /** What a line means, asked again until it means something. */
    <T> T read(String question, ValueFormat<T> format) throws IOException {
        while (true) {
            String answer = line(question);
            try {
                return format.read("the answer", answer);
            } catch (UsageException e) {
                err.println(TerminalText.oneLine(String.valueOf(e.getMessage())));
            }
        }
    }

    /** The first letter of the answer in lower case; {@code otherwise} for a mere Enter; asked again until it is known. */
    char choice(String question, String letters, char otherwise) throws IOException {
        while (true) {
            String line = line(question).toLowerCase(Locale.ROOT);
            char letter = line.isEmpty() ? otherwise : line.charAt(0);
            if (letters.indexOf(letter) >= 0) {
                return letter;
            }
            err.println("Please answer with one of " + String.join(", ", letters.split("")) + ", or Enter.");
        }
    }
}
