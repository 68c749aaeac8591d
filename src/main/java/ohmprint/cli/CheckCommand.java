package ohmprint.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.check.CheckRequest;
import ohmprint.conformity.FaultPatterns.PossibleCause;
import ohmprint.conformity.RequirementVerdict;

/** {@code check}: does a curve meet a specification? */
final class CheckCommand extends Command {
    /** Its name. */
    static final String NAME = "check";

    /** What it is for. */
    static final String HEADER = "Whether a curve meets a specification, beyond its uncertainty.";

    private static final int WIDTH = 96;

    private static final Parameter<String> CURVE = Parameter.argument(
            0, "CURVE", "A curve.json, the folder of a result, or the folder of a measured session.");
    private static final Parameter<Path> SPEC = Parameter.option(
                    "--spec",
                    "FILE",
                    "The specification, a YAML file: rated impedance, mask, resonance," + " reference curve; required.",
                    ValueFormat.path("the YAML file of a specification"))
            .required("give the YAML file of a specification, for example --spec ribbon-300.yaml");
    private static final Parameter<Path> OUT = Parameter.option(
            "--out",
            "DIR",
            "Folder for the verdict and a picture with the limits (default: none).",
            ValueFormat.path("the path of a folder"));

    private static final String EXIT_CODES = """

            Exit codes:
              0  within the specification
              1  a fault of the program
              2  bad input or usage; nothing is written
              4  outside the specification
              5  undecided: the uncertainty, or what was not measured, leaves it open
            """;

    CheckCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Compares |Z| with the limits of a specification. Within is what lies inside by its 95 %%"
                                + " uncertainty in every band; outside is what lies beyond a limit by more than chance"
                                + " would bring in any band, at most once in forty curves that lie on it; the rest is"
                                + " undecided.",
                        """

                        A specification:
                          version: 1
                          rated_impedance: {ohm: 300, tolerance_percent: 20, at_hz: 1000}
                          mask: [{from_hz: 200, to_hz: 10000, min_ohm: 200, max_ohm: 400}]
                        """
                                + Usage.example(
                                        "check bench-ribbon-7 --spec ribbon-300.yaml --out bench-ribbon-7/check")
                                + EXIT_CODES
                                + Usage.CAUTIONS,
                        CURVE,
                        SPEC,
                        OUT,
                        Parameter.JSON));
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        Path specification = given.get(SPEC);
        CheckOutcome outcome = CheckCurve.run(new CheckRequest(given.get(CURVE), specification, given.find(OUT)));
        outcome.notes().forEach(note -> console.note("note: " + note));
        console.tell(outcome.findings());
        if (given.has(Parameter.JSON)) {
            console.out().println(outcome.json());
        } else {
            print(outcome, console);
        }
        return switch (outcome.verdict()) {
            case "within" -> ExitCode.DONE;
            case "outside" -> ExitCode.OUTSIDE;
            default -> ExitCode.UNDECIDED;
        };
    }

    /** The answer, each requirement with what was found, what may be behind it. */
    private static void print(CheckOutcome outcome, Console console) {
        PrintWriter out = console.out();
        console.line("microphone", outcome.measurement().microphone().label());
        console.line("against", outcome.specificationName());
        console.line("verdict", outcome.verdict());
        outcome.reasons().forEach(reason -> console.line("because", reason));
        for (RequirementVerdict requirement : outcome.requirements()) {
            console.line();
            console.line(
                    requirement.kind().words() + ": " + requirement.conformity().word());
            indented("  ", "requires " + requirement.words(), out);
            requirement.findings().forEach(finding -> indented("  ", finding, out));
        }
        if (!outcome.causes().isEmpty()) {
            console.line();
            console.line("What may be behind it (common practice, not measured; confirm before you solder)");
            for (PossibleCause cause : outcome.causes()) {
                indented("  ", cause.pattern() + ": " + cause.cause(), out);
                indented("    ", "confirm: " + cause.confirm(), out);
                indented("    ", "caution: " + cause.caution(), out);
            }
        }
        Path folder = outcome.folder();
        if (folder != null) {
            console.line();
            console.line("written", folder + ": " + String.join(", ", outcome.files()));
        }
    }

    /** A sentence in lines of the width of the help, those after the first two places further in. */
    private static void indented(String indent, String sentence, PrintWriter out) {
        StringBuilder line = new StringBuilder(indent);
        boolean empty = true;
        for (String word : List.of(TerminalText.oneLine(sentence).split(" "))) {
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
