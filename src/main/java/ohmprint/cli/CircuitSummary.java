package ohmprint.cli;

import java.io.PrintWriter;
import java.util.Locale;
import ohmprint.app.circuit.CircuitOutcome;
import ohmprint.app.circuit.CircuitOutcome.Value;
import ohmprint.curve.Rounded;

/** A circuit as text. */
final class CircuitSummary {
    private static final int DIGITS = 4;

    private final PrintWriter out;

    private CircuitSummary(PrintWriter out) {
        this.out = out;
    }

    /** Prints it. */
    static void print(CircuitOutcome outcome, PrintWriter out) {
        new CircuitSummary(out).print(outcome);
    }

    private void print(CircuitOutcome outcome) {
        line("microphone", OneLine.of(outcome.microphone()));
        line("circuit", outcome.family() + ": " + outcome.circuit());
        line(
                "fit",
                String.format(
                        Locale.ROOT,
                        "%s to %s, off by %s %% (root mean square), at most %s %% at %s",
                        Rounded.frequency(outcome.lowestHz()),
                        Rounded.frequency(outcome.highestHz()),
                        Rounded.digits(outcome.misfit().rmsPercent(), 2),
                        Rounded.digits(outcome.misfit().worstPercent(), 2),
                        Rounded.frequency(outcome.misfit().worstHz())));
        out.println();
        if (outcome.follows()) {
            outcome.values().forEach(this::value);
            out.println();
            Value dc = outcome.dcResistance();
            if (dc != null) {
                value(dc);
            }
            Value top = outcome.topInductance();
            if (top.determined() && top.value() < 0) {
                out.println(
                        "  " + top.words() + " ".repeat(28 - top.words().length()) + "none, a capacitance prevails");
            } else {
                value(top);
            }
        }
        if (outcome.file() != null) {
            out.println();
            line("written", outcome.file().toString());
        }
    }

    private void value(Value v) {
        String text = v.determined()
                ? Prefixed.of(v.value(), v.unit(), DIGITS) + "   (" + Prefixed.of(v.low(), v.unit(), DIGITS) + " to "
                        + Prefixed.of(v.high(), v.unit(), DIGITS) + ")"
                : "not determined";
        out.println("  " + v.words() + " ".repeat(Math.max(1, 28 - v.words().length())) + text);
    }

    private void line(String name, String text) {
        out.println(name + " ".repeat(12 - name.length()) + text);
    }
}
