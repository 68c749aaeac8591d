package ohmprint.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.check.CheckOutcome;

/** The verdict on a curve for a reader at a terminal. */
final class CheckSummary {
    private static final int WIDTH = 96;

    private final CheckOutcome outcome;
    private final PrintWriter out;

    private CheckSummary(CheckOutcome outcome, PrintWriter out) {
        this.outcome = outcome;
        this.out = out;
    }

    /** Prints it: the answer, each requirement with what was found, what may be behind it. */
    static void print(CheckOutcome outcome, PrintWriter out) {
        new CheckSummary(outcome, out).print();
    }

    private void print() {
        line("microphone", OneLine.of(outcome.measurement().microphone().label()));
        line("against", OneLine.of(outcome.specificationName()));
        line("verdict", outcome.verdict());
        outcome.reasons().forEach(reason -> line("because", reason));
        for (CheckOutcome.Requirement requirement : outcome.requirements()) {
            out.println();
            out.println(requirement.kind() + ": " + requirement.verdict());
            indented("  ", "requires " + requirement.requires());
            requirement.findings().forEach(finding -> indented("  ", finding));
        }
        if (!outcome.causes().isEmpty()) {
            out.println();
            out.println("What may be behind it (common practice, not measured; confirm before you solder)");
            outcome.causes().forEach(this::cause);
        }
        Path folder = outcome.folder();
        if (folder != null) {
            out.println();
            line("written", folder + ": " + String.join(", ", outcome.files()));
        }
    }

    private void cause(CheckOutcome.Cause cause) {
        indented("  ", cause.pattern() + ": " + cause.cause());
        indented("    ", "confirm: " + cause.confirm());
        indented("    ", "caution: " + cause.caution());
    }

    private void line(String name, String text) {
        out.println(name + " ".repeat(12 - name.length()) + text);
    }

    /** A sentence in lines of the width of the help, those after the first two places further in. */
    private void indented(String indent, String sentence) {
        StringBuilder line = new StringBuilder(indent);
        boolean empty = true;
        for (String word : List.of(OneLine.of(sentence).split(" "))) {
            if (!empty && line.length() + 1 + word.length() > WIDTH) {
                out.println(line);
                line = new StringBuilder(indent + "  ");
                empty = true;
            }
            line.append(empty ? "" : " ").append(word);
            empty = false;
        }
        out.println(line);
    }
}
