package ohmprint.cli;

import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.Usability;
import ohmprint.text.Numbers;

/** The outcome of a measurement for a reader at a terminal and for a program. */
final class MeasureReport {
    /** Input over source impedance that counts as a light load: common practice, no source. */
    private static final double LIGHT_LOAD = 10;

    private final Measurement m;
    private final ImpedanceCurve curve;
    private final boolean input;
    private final Console console;

    private MeasureReport(Measurement m, Console console) {
        this.m = m;
        this.curve = m.curve();
        this.input = curve.side() == ImpedanceCurve.Side.INPUT;
        this.console = console;
    }

    /** Tells findings and prints the outcome as text or JSON; returns the exit code. */
    static int print(MeasureOutcome outcome, Options given, Console console) {
        console.tell(outcome.measurement().findings());
        if (given.has(Parameter.JSON)) {
            json(outcome).print(console.out());
        } else {
            summary(outcome, console);
        }
        return code(outcome);
    }

    /** The exit code. */
    static int code(MeasureOutcome outcome) {
        return outcome.folder() == null ? ExitCode.NO_CURVE : ExitCode.DONE;
    }

    /** For a program; {@code folder} is null and {@code files} empty when nothing was written. */
    static Json json(MeasureOutcome outcome) {
        Measurement m = outcome.measurement();
        ImpedanceCurve curve = m.curve();
        return new Json()
                .put("verdict", m.usability().word())
                .put("route", m.route().word())
                .put("route_reason", m.routeReason())
                .put("quantity", curve.quantity())
                .put("folder", outcome.folder())
                .put("files", outcome.files())
                .list(
                        "findings",
                        m.findings(),
                        finding -> new Json()
                                .put("code", finding.code().word())
                                .put("take", finding.take())
                                .put("message", finding.message()))
                .put("measured_bands", curve.count(BandStatus.MEASURED))
                .put("rejected_bands", curve.count(BandStatus.REJECTED))
                .put("interval_bands", curve.count(BandStatus.INTERVAL))
                .put("advice", outcome.advice());
    }

    /** For a reader. Values appear only when they were also written to files. */
    static void summary(MeasureOutcome outcome, Console console) {
        MeasureReport report = new MeasureReport(outcome.measurement(), console);
        report.head();
        Path folder = outcome.folder();
        if (folder == null) {
            console.line(
                    "written",
                    "nothing; record again what the findings name, or repeat with --force to see it all the same");
        } else {
            report.values();
            console.line("written", folder + ": " + String.join(", ", outcome.files()));
        }
        if (!outcome.advice().isEmpty()) {
            console.line();
            console.line("What would sharpen it");
            outcome.advice().forEach(sentence -> console.line("  " + sentence));
        }
    }

    private void head() {
        console.line(input ? "input of" : "microphone", microphone(m.microphone()));
        console.line(
                "quantity",
                curve.quantity()
                        + (curve.parallelWithInput()
                                ? ": the " + (input ? "generator" : "input")
                                        + " was not stated, so it is still in there"
                                : ""));
        console.line("route", m.route().word() + ": " + m.routeReason());
        int findings = m.findings().size();
        console.line(
                "verdict",
                m.usability().word()
                        + switch (findings) {
                            case 0 -> ", no findings";
                            case 1 -> ", 1 finding";
                            default -> ", " + findings + " findings";
                        });
    }

    private static String microphone(Microphone m) {
        String more = Stream.of(
                        m.maker(), m.model(), m.serial() == null ? null : "serial " + m.serial(), m.transducer())
                .filter(Objects::nonNull)
                .collect(Collectors.joining(", "));
        return more.isEmpty() ? m.label() : m.label() + " (" + more + ")";
    }

    private void values() {
        console.line("bands", bands());
        console.line();
        ImpedanceTable.print(curve, console.out());
        console.line();
        List<BandValue> measured =
                curve.values().stream().filter(BandValue::isMeasured).toList();
        Comparator<BandValue> magnitude = Comparator.comparingDouble(BandValue::magnitudeOhm);
        measured.stream().max(magnitude).ifPresent(v -> extreme("highest", v));
        measured.stream().min(magnitude).ifPresent(v -> extreme("lowest", v));
        String name = "consistency";
        for (String sentence : ConsistencyWords.of(curve.consistency())) {
            console.line(name, sentence);
            name = "";
        }
        double load = lightLoadOhm();
        if (Double.isFinite(load) && m.usability() != Usability.UNUSABLE && !curve.parallelWithInput() && !input) {
            console.line(
                    "ten times",
                    "an input of " + Numbers.digits(load, 2) + " Ω or more is ten times |Z| in these bands");
        }
    }

    private String bands() {
        String counts = List.of(BandStatus.values()).stream()
                .filter(status -> curve.count(status) > 0)
                .map(status -> curve.count(status) + " " + status.word())
                .collect(Collectors.joining(", "));
        int fraction = curve.bands().fraction();
        return counts + (fraction == 1 ? " (octaves)" : " (1/" + fraction + " octave)");
    }

    private void extreme(String name, BandValue v) {
        console.line(
                name,
                TerminalText.ohms(v.magnitudeOhm(), v.magnitudeU95Ohm()) + " at " + Numbers.frequency(v.frequencyHz()));
    }

    /**
     * The least input in ohms that is ten times |Z| with its uncertainty in each band that is not rejected, rounded up
     * to two digits; not finite when the evidence sets no upper bound.
     */
    private double lightLoadOhm() {
        double ohm = LIGHT_LOAD
                * curve.values().stream()
                        .filter(v -> v.status() != BandStatus.REJECTED)
                        .mapToDouble(
                                v -> v.isMeasured() ? v.magnitudeOhm() + v.magnitudeU95Ohm() : v.magnitudeHighOhm())
                        .max()
                        .orElse(Double.NaN);
        double step = Math.pow(10, Math.floor(Math.log10(ohm)) - 1);
        return Math.ceil(ohm / step) * step;
    }
}
