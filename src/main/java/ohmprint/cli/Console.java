package ohmprint.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.impedance.Finding;

/**
 * Where a command prints.
 *
 * @param around what the process finds around itself
 * @param out standard output: results alone
 * @param err standard error: findings, progress, what went wrong
 */
record Console(Environment around, PrintWriter out, PrintWriter err) {
    private static final int NAMES = 12;

    /** An empty line of the result. */
    void line() {
        out.println();
    }

    /** A line of the result. */
    void line(String text) {
        out.println(TerminalText.oneLine(text));
    }

    /** A line of the result that begins with its name, which an empty one repeats. */
    void line(String name, String text) {
        line(name + " ".repeat(NAMES - name.length()) + text);
    }

    /** A line on standard error. */
    void note(String text) {
        err.println(TerminalText.oneLine(text));
        err.flush();
    }

    /** One line per finding on standard error: {@code code: take: message}. */
    void tell(List<Finding> findings) {
        for (Finding finding : findings) {
            String take = finding.take() == null ? "" : finding.take() + ": ";
            note(finding.code().word() + ": " + take + finding.message());
        }
    }

    /** Does work that may be slow, with a progress bar where one can be shown. */
    <T> T withProgress(Work<T> work) throws BadInputException, IOException {
        if (!around.progressWanted()) {
            return work.run(Progress.SILENT);
        }
        try (TerminalProgress bar = TerminalProgress.start(err, around.columns())) {
            return work.run(bar);
        }
    }

    /** Work that tells how far it is. */
    @FunctionalInterface
    interface Work<T> {
        /** Does it and returns what came out. */
        T run(Progress progress) throws BadInputException, IOException;
    }
}
