package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.circuit.CircuitOutcome;
import ohmprint.app.circuit.CircuitOutcome.Validity;
import ohmprint.app.circuit.CircuitOutcome.Value;
import ohmprint.app.circuit.CircuitRequest;
import ohmprint.app.circuit.FitCircuit;
import ohmprint.json.JsonObject;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/** {@code circuit}: the electrical circuit behind a curve. */
final class CircuitCommand extends Command {
    /** Its name. */
    static final String NAME = "circuit";

    /** What it is for. */
    static final String HEADER =
            "The electrical circuit behind a curve: resistance, inductance, resonance, and a SPICE subcircuit.";

    private static final int DIGITS = 4;
    private static final int NAMES = 28;
    private static final List<String> FAMILIES = List.of("moving-coil", "ribbon", "capacitor-coupled");

    private static final Parameter<String> CURVE =
            Parameter.argument(0, "CURVE", "A curve that was measured: a curve.json or the folder that holds it.");
    private static final Parameter<Path> OUT = Parameter.option(
            "--out", "FILE.cir", "File for the subcircuit (default: none).", ValueFormat.path("the path of a file"));
    private static final Parameter<String> FAMILY = Parameter.option(
            "--family",
            "FAMILY",
            "Only circuits of this kind: " + TerminalText.list(FAMILIES, "or") + " (default: what fits).",
            ValueFormat.word(FAMILIES));

    private static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  no circuit follows the curve; nothing is written
            """;

    CircuitCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Fits the circuits that microphones have to a curve and states the one that the curve speaks"
                                + " for, each value with its 95 %% interval. A value that the curve does not fix is not"
                                + " stated. The subcircuit has two pins and is made of resistors, inductors and"
                                + " capacitors.",
                        Usage.example("circuit bench-ribbon-7/result --out bench-ribbon-7.cir") + EXIT_CODES,
                        CURVE,
                        OUT,
                        FAMILY,
                        Parameter.JSON));
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        Path out = given.find(OUT);
        CircuitOutcome outcome = FitCircuit.run(new CircuitRequest(given.get(CURVE), given.find(FAMILY), out));
        if (given.has(Parameter.JSON)) {
            json(outcome).print(console.out());
        } else {
            print(outcome, console);
        }
        outcome.notes().forEach(console::note);
        return outcome.follows() ? ExitCode.DONE : ExitCode.NO_CURVE;
    }

    private static void print(CircuitOutcome outcome, Console console) {
        console.line("microphone", outcome.microphone());
        console.line("circuit", outcome.family() + ": " + outcome.circuit());
        console.line(
                "fit",
                String.format(
                        Locale.ROOT,
                        "%s to %s, off by %s %% (root mean square), at most %s %% at %s",
                        Numbers.frequency(outcome.lowestHz()),
                        Numbers.frequency(outcome.highestHz()),
                        Numbers.digits(outcome.misfit().rmsPercent(), 2),
                        Numbers.digits(outcome.misfit().worstPercent(), 2),
                        Numbers.frequency(outcome.misfit().worstHz())));
        Validity validity = outcome.validity();
        if (validity != null) {
            console.line(
                    "validity",
                    String.format(
                            Locale.ROOT,
                            "real and imaginary part %s (Kramers-Kronig test, χ² %s, %.0f degrees of freedom)",
                            validity.passed() ? "belong together" : "do not belong together",
                            Numbers.digits(validity.left().value(), 4),
                            validity.left().freedom()));
        }
        console.line();
        if (outcome.follows()) {
            outcome.values().forEach(value -> print(value.words(), text(value), console));
            console.line();
            Value dc = outcome.dcResistance();
            if (dc != null) {
                print(dc.words(), text(dc), console);
            }
            Value top = outcome.topInductance();
            boolean capacitive = top.determined() && top.value() < 0;
            print(top.words(), capacitive ? "none, a capacitance prevails" : text(top), console);
        }
        if (outcome.file() != null) {
            console.line();
            console.line("written", outcome.file().toString());
        }
    }

    private static void print(String name, String text, Console console) {
        console.line("  " + name + " ".repeat(Math.max(1, NAMES - name.length())) + text);
    }

    private static String text(Value v) {
        return v.determined()
                ? Numbers.withPrefix(v.value(), v.unit(), DIGITS) + "   ("
                        + Numbers.withPrefix(v.low(), v.unit(), DIGITS) + " to "
                        + Numbers.withPrefix(v.high(), v.unit(), DIGITS) + ")"
                : "not determined";
    }

    /** For a program; what is not determined is null. */
    private static JsonObject json(CircuitOutcome outcome) {
        boolean follows = outcome.follows();
        return new JsonObject()
                .put("microphone", outcome.microphone())
                .put("quantity", outcome.quantity())
                .put("family", outcome.family())
                .put("circuit", outcome.circuit())
                .put("follows", follows)
                .put("lowest_hz", outcome.lowestHz())
                .put("highest_hz", outcome.highestHz())
                .list(
                        "values",
                        outcome.values(),
                        v -> numbers(new JsonObject().put("name", v.name()).put("unit", v.unit()), v, follows))
                .put("dc_resistance_ohm", derived(outcome.dcResistance(), follows))
                .put("top_inductance_henry", derived(outcome.topInductance(), follows))
                .put(
                        "misfit",
                        new JsonObject()
                                .put("rms_percent", outcome.misfit().rmsPercent())
                                .put("worst_percent", outcome.misfit().worstPercent())
                                .put("worst_hz", outcome.misfit().worstHz())
                                .put("chi_square_per_freedom", outcome.misfit().scatter()))
                .put("kramers_kronig", json(outcome.validity()))
                .list(
                        "others",
                        outcome.rivals(),
                        rival -> new JsonObject()
                                .put("family", rival.family())
                                .put("circuit", rival.circuit())
                                .put("behind", rival.behind()))
                .put("notes", outcome.notes())
                .put("file", outcome.file());
    }

    private static @Nullable JsonObject json(@Nullable Validity validity) {
        return validity == null
                ? null
                : new JsonObject()
                        .put("passed", validity.passed())
                        .put("chi_square", validity.left().value())
                        .put("degrees_of_freedom", validity.left().freedom())
                        .put("p", validity.left().pValue())
                        .put("from_hz", validity.fromHz())
                        .put("to_hz", validity.toHz());
    }

    private static @Nullable JsonObject derived(@Nullable Value value, boolean follows) {
        return value == null ? null : numbers(new JsonObject(), value, follows);
    }

    private static JsonObject numbers(JsonObject json, Value v, boolean follows) {
        boolean stated = follows && v.determined();
        return json.put("determined", stated)
                .put("value", stated ? v.value() : Double.NaN)
                .put("low", stated ? v.low() : Double.NaN)
                .put("high", stated ? v.high() : Double.NaN);
    }
}
