package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.ResultFiles;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.Permitted;
import ohmprint.impedance.Route;
import ohmprint.impedance.SharedErrors;
import ohmprint.impedance.Usability;
import ohmprint.json.MeasurementJson;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/** {@code measure}: a session becomes a curve. What {@code input} and {@code demo} share with it stands here. */
final class MeasureCommand extends Command {
    /** Its name. */
    static final String NAME = "measure";

    /** What it is for. */
    static final String HEADER = "Source impedance against frequency from a folder of takes.";

    private static final String FOLDER = "the path of a folder";
    private static final String AUTO = "auto";
    private static final List<String> ROUTES = Stream.concat(
                    Stream.of(AUTO), Arrays.stream(Route.values()).map(Route::word))
            .toList();

    private static final Parameter<Path> SESSION = Parameter.argument(
            0, "SESSION", "Folder with session.yaml and the takes, or that session.yaml.", ValueFormat.path(FOLDER));
    private static final Parameter<Path> OUT = Parameter.option(
            "--out", "DIR", "Folder for the results (default: SESSION/result).", ValueFormat.path(FOLDER));
    private static final Parameter<Integer> BANDS = Parameter.option(
            "--bands",
            "N",
            "Bands per octave: 1, 3, 6, 12 or 24 (default: 12, or 3 on the power route).",
            MeasureCommand::bands);
    private static final Parameter<String> ROUTE = Parameter.option(
            "--route",
            "ROUTE",
            "What the takes are compared with: " + TerminalText.list(ROUTES, "or")
                    + " (default: auto, the evidence decides).",
            ValueFormat.word(ROUTES));
    private static final Parameter<Double> FROM = Parameter.option(
                    "--from", "HZ", "Lowest midband in hertz.", Range.of(Permitted.HERTZ, "1000"))
            .usually(MeasureRequest.DEFAULT_FROM_HZ);
    private static final Parameter<Double> TO = Parameter.option(
                    "--to", "HZ", "Highest midband in hertz.", Range.of(Permitted.HERTZ, "1000"))
            .usually(MeasureRequest.DEFAULT_TO_HZ);
    private static final Parameter<SharedErrors> SHARED_ERRORS = Parameter.option(
            "--shared-errors",
            "WHAT",
            "Errors common to all bands: fitted to all bands at once where three or more takes allow it, or"
                    + " carried into the uncertainty as believed (default: fitted).",
            ValueFormat.choice(List.of(SharedErrors.values()), SharedErrors::word));
    private static final Parameter<String> FORCE =
            Parameter.flag("--force", "Write a result even if the evidence does not support it.");

    /** Exit codes of commands that measure. */
    static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  the evidence does not support a curve; nothing is written (with --force a result is
                 written, marked unusable, and the exit code is 0)
            """;

    private final UseCase<MeasureRequest, MeasureOutcome> useCase;

    /** A command that measures by {@link ohmprint.app.measure.MeasureSession#run} or, in tests, otherwise. */
    MeasureCommand(UseCase<MeasureRequest, MeasureOutcome> useCase) {
        super(
                NAME,
                HEADER,
                usage(
                        "Measures a session: magnitude and phase with their 95 %% uncertainty, as "
                                + ResultFiles.contents() + ". Results are complete or not there at all. The"
                                + " summary goes to standard output, findings about the takes to standard error.",
                        Usage.example("measure bench-ribbon-7 --bands 12 --from 30 --to 18000")
                                + EXIT_CODES
                                + Usage.CAUTIONS));
        this.useCase = useCase;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        MeasureRequest request = request(given);
        return Report.print(console.withProgress(progress -> useCase.run(request, progress)), given, console);
    }

    /** The usage of a command with these options. */
    static Usage usage(String description, String footer) {
        return new Usage(
                description, footer, SESSION, OUT, BANDS, ROUTE, FROM, TO, SHARED_ERRORS, FORCE, Parameter.JSON);
    }

    /** What was asked for. */
    static MeasureRequest request(Options given) throws UsageException {
        Integer bands = given.find(BANDS);
        double from = given.get(FROM);
        double to = given.get(TO);
        Options.requireOrder(from, ifUsual(given, FROM), to, ifUsual(given, TO));
        return new MeasureRequest(
                given.get(SESSION),
                given.find(OUT),
                bands,
                route(given.find(ROUTE)),
                from,
                to,
                given.or(SHARED_ERRORS, SharedErrors.USUAL),
                given.has(FORCE));
    }

    private static Integer bands(String what, String text) throws UsageException {
        return FrequencyBands.FRACTIONS.stream()
                .filter(fraction -> fraction.toString().equals(text))
                .findFirst()
                .orElseThrow(() -> new UsageException(
                        what + " is " + text + " per octave; choose 1, 3, 6, 12 or 24 bands per octave"));
    }

    private static @Nullable Route route(@Nullable String word) {
        return Arrays.stream(Route.values())
                .filter(route -> route.word().equals(word))
                .findFirst()
                .orElse(null);
    }

    private static String ifUsual(Options given, Parameter<?> option) {
        return given.has(option) ? "" : " unless you say otherwise";
    }

    /** The outcome of a measurement for a reader at a terminal and for a program. */
    static final class Report {
        /** Input over source impedance that counts as a light load: common practice, no source. */
        private static final double LIGHT_LOAD = 10;

        private final Measurement m;
        private final ImpedanceCurve curve;
        private final boolean input;
        private final Console console;

        private Report(Measurement m, Console console) {
            this.m = m;
            this.curve = m.curve();
            this.input = curve.side() == ImpedanceCurve.Side.INPUT;
            this.console = console;
        }

        /** Tells findings and prints the outcome as text or JSON; returns the exit code. */
        static int print(MeasureOutcome outcome, Options given, Console console) {
            console.tell(outcome.measurement().findings());
            if (given.has(Parameter.JSON)) {
                MeasurementJson.outcome(outcome).print(console.out());
            } else {
                summary(outcome, console);
            }
            return code(outcome);
        }

        /** The exit code. */
        static int code(MeasureOutcome outcome) {
            return outcome.folder() == null ? ExitCode.NO_CURVE : ExitCode.DONE;
        }

        /** For a reader. Values appear only when they were also written to files. */
        static void summary(MeasureOutcome outcome, Console console) {
            Report report = new Report(outcome.measurement(), console);
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
                    TerminalText.ohms(v.magnitudeOhm(), v.magnitudeU95Ohm()) + " at "
                            + Numbers.frequency(v.frequencyHz()));
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
}
