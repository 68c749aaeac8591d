package ohmprint.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.app.ConsistencyWords;
import ohmprint.app.MeasureOutcome;
import ohmprint.curve.BandStatus;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.Rounded;
import ohmprint.curve.Usability;

/** The outcome of a measurement for a reader at a terminal. */
final class Summary {
    private final MeasureOutcome outcome;
    private final PrintWriter out;

    private Summary(MeasureOutcome outcome, PrintWriter out) {
        this.outcome = outcome;
        this.out = out;
    }

    /** Prints it. Values appear only when they were also written to files. */
    static void print(MeasureOutcome outcome, PrintWriter out) {
        new Summary(outcome, out).print();
    }

    private void print() {
        Measurement m = outcome.measurement();
        boolean input = m.curve().side() == ImpedanceCurve.Side.INPUT;
        line(input ? "input of" : "microphone", microphone(m.microphone()));
        line("quantity", quantity(m.curve()));
        line("route", m.route().word() + ": " + OneLine.of(m.routeReason()));
        line("verdict", verdict(m));
        Path folder = outcome.folder();
        if (folder == null) {
            line(
                    "written",
                    "nothing; record again what the findings name, or repeat with --force to see it all the same");
        } else {
            values(m);
            line("written", folder + ": " + String.join(", ", outcome.files()));
        }
        if (!outcome.advice().isEmpty()) {
            out.println();
            out.println("What would sharpen it");
            outcome.advice().forEach(sentence -> out.println("  " + OneLine.of(sentence)));
        }
    }

    private void values(Measurement m) {
        ImpedanceCurve curve = m.curve();
        line("bands", bands(curve));
        out.println();
        ImpedanceTable.print(curve, out);
        out.println();
        Extremes extremes = new Extremes(curve);
        if (extremes.exist()) {
            line("highest", extremes.highest());
            line("lowest", extremes.lowest());
        }
        String name = "consistency";
        for (String sentence : ConsistencyWords.of(curve.consistency())) {
            line(name, sentence);
            name = "";
        }
        double load = extremes.lightLoadOhm();
        if (Double.isFinite(load)
                && m.usability() != Usability.UNUSABLE
                && !curve.parallelWithInput()
                && curve.side() == ImpedanceCurve.Side.SOURCE) {
            line("ten times", "an input of " + Rounded.digits(load, 2) + " Ω or more is ten times |Z| in these bands");
        }
    }

    private void line(String name, String text) {
        out.println(name + " ".repeat(12 - name.length()) + text);
    }

    private static String microphone(Microphone m) {
        String more = Stream.of(
                        m.maker(), m.model(), m.serial() == null ? null : "serial " + m.serial(), m.transducer())
                .filter(Objects::nonNull)
                .collect(Collectors.joining(", "));
        return OneLine.of(more.isEmpty() ? m.label() : m.label() + " (" + more + ")");
    }

    private static String quantity(ImpedanceCurve curve) {
        if (curve.side() == ImpedanceCurve.Side.INPUT) {
            return curve.parallelWithInput()
                    ? curve.quantity() + ": the generator was not stated, so it is still in there"
                    : curve.quantity();
        }
        return curve.parallelWithInput()
                ? curve.quantity() + ": the input was not stated, so it is still in there"
                : curve.quantity();
    }

    private static String verdict(Measurement m) {
        int findings = m.findings().size();
        return m.usability().word()
                + switch (findings) {
                    case 0 -> ", no findings";
                    case 1 -> ", 1 finding";
                    default -> ", " + findings + " findings";
                };
    }

    private static String bands(ImpedanceCurve curve) {
        String counts = List.of(BandStatus.values()).stream()
                .filter(status -> curve.count(status) > 0)
                .map(status -> curve.count(status) + " " + status.word())
                .collect(Collectors.joining(", "));
        int fraction = curve.bands().fraction();
        return counts + (fraction == 1 ? " (octaves)" : " (1/" + fraction + " octave)");
    }
}
