package ohmprint.app.circuit;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.Version;
import ohmprint.app.circuit.CircuitOutcome.Validity;
import ohmprint.circuit.fit.CircuitFit;
import ohmprint.circuit.fit.Family;
import ohmprint.circuit.fit.FittedCircuit;
import ohmprint.circuit.fit.FittedCircuit.Estimate;
import ohmprint.circuit.fit.KramersKronig;
import ohmprint.circuit.fit.SpiceSubcircuit;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/** Finds the circuit behind a curve and writes it as a SPICE subcircuit. */
public final class FitCircuit {
    /** A circuit that is off by more than this in the root mean square, and by more than the noise, is none. */
    private static final double FAR_PERCENT = 5;

    private static final double FAR_SCATTER = 4;
    /** From here on the circuit is told to miss something. */
    private static final double SOME_SCATTER = 2;

    private static final double TOLD_PERCENT = 1;

    private FitCircuit() {}

    /**
     * Fits.
     *
     * @throws BadInputException if the curve cannot be used, or the file is there and not one of ours
     * @throws IOException if a file cannot be read or written; nothing is changed then
     */
    public static CircuitOutcome run(CircuitRequest request) throws BadInputException, IOException {
        Path out = request.out();
        if (out != null) {
            NetlistFile.check(out);
        }
        NamedCurve stored = NamedCurve.of(request.curve());
        Measurement measurement = stored.measurement();
        if (measurement.curve().count(BandStatus.MEASURED) == 0) {
            throw new BadInputException(stored.name() + " holds no value, at most bounds; a circuit needs values:"
                    + " measure with three loads or more, or with the same sound in all takes");
        }
        FittedCircuit circuit;
        try {
            circuit =
                    CircuitFit.of(measurement.curve(), measurement.microphone().transducer(), family(request.family()));
        } catch (IllegalArgumentException e) {
            throw new BadInputException(stored.name() + ": " + e.getMessage(), e);
        }
        FittedCircuit.Misfit misfit = circuit.misfit();
        boolean follows = misfit.rmsPercent() < FAR_PERCENT || misfit.scatter() < FAR_SCATTER;
        CircuitOutcome outcome =
                outcome(measurement, circuit, validity(measurement.curve()), follows, follows ? out : null);
        if (follows && out != null) {
            NetlistFile.write(
                    out, SpiceSubcircuit.of(circuit, measurement.microphone().label(), comments(outcome)));
        }
        return outcome;
    }

    private static @Nullable Family family(@Nullable String word) throws BadInputException {
        if (word == null) {
            return null;
        }
        return Stream.of(Family.MOVING_COIL, Family.RIBBON, Family.CAPACITOR_COUPLED)
                .filter(f -> f.word().equals(word))
                .findFirst()
                .orElseThrow(() -> new BadInputException(
                        "a family " + word + " is not known here; choose moving-coil, ribbon or capacitor-coupled"));
    }

    private static CircuitOutcome outcome(
            Measurement measurement,
            FittedCircuit circuit,
            @Nullable Validity validity,
            boolean follows,
            @Nullable Path file) {
        FittedCircuit.Misfit misfit = circuit.misfit();
        Estimate dc = circuit.dcResistance();
        return new CircuitOutcome(
                measurement.microphone().label(),
                measurement.curve().quantity(),
                circuit.family().word(),
                circuit.words(),
                circuit.lowestHz(),
                circuit.highestHz(),
                circuit.values().stream().map(FitCircuit::plain).toList(),
                dc == null ? null : plain(dc),
                plain(circuit.topInductance()),
                new CircuitOutcome.Misfit(
                        misfit.rmsPercent(), misfit.worstPercent(), misfit.worstHz(), misfit.scatter()),
                validity,
                follows,
                circuit.rivals().stream()
                        .map(r -> new CircuitOutcome.Rival(r.family().word(), r.words(), r.behind()))
                        .toList(),
                notes(measurement, circuit, validity, follows),
                file);
    }

    private static @Nullable Validity validity(ImpedanceCurve curve) {
        KramersKronig.Result result = KramersKronig.test(curve);
        if (result == null) {
            return null;
        }
        KramersKronig.Stretch worst = result.worst();
        return new Validity(
                result.isImpedance(),
                // Of an exact curve what is left is the arithmetic's, another number on each machine.
                new ChiSquare(
                        Math.rint(1e6 * result.left().value()) / 1e6,
                        result.left().freedom()),
                worst == null ? Double.NaN : worst.fromHz(),
                worst == null ? Double.NaN : worst.toHz());
    }

    private static CircuitOutcome.Value plain(Estimate e) {
        return new CircuitOutcome.Value(e.name(), e.words(), e.unit(), e.value(), e.low(), e.high(), e.determined());
    }

    private static List<String> notes(
            Measurement measurement, FittedCircuit circuit, @Nullable Validity validity, boolean follows) {
        List<String> notes = new ArrayList<>();
        FittedCircuit.Misfit misfit = circuit.misfit();
        if (!follows) {
            notes.add("None of the circuits follows this curve; the values say nothing, and no file is written.");
        } else if (misfit.scatter() > SOME_SCATTER && misfit.worstPercent() > TOLD_PERCENT) {
            notes.add(String.format(
                    Locale.ROOT,
                    "The circuit misses something: it is off by %.1f %% at %.0f Hz, more than the noise explains.",
                    misfit.worstPercent(),
                    misfit.worstHz()));
        }
        if (validity != null && !validity.passed()) {
            notes.add("No linear circuit has this curve"
                    + (Double.isNaN(validity.fromHz())
                            ? ""
                            : String.format(Locale.ROOT, " from %.0f to %.0f Hz", validity.fromHz(), validity.toHz()))
                    + " (Kramers-Kronig test, p below 0.001): its real and imaginary part do not belong together."
                    + " Measure again, and check whether something moved or disturbed a take.");
        }
        String transducer = measurement.microphone().transducer();
        if (transducer != null && !circuit.family().suits(transducer) && !transducer.equals("other")) {
            notes.add("The session states a transducer " + transducer + ", and the curve speaks for another circuit.");
        }
        if (measurement.curve().parallelWithInput()) {
            notes.add("The curve is that of the source in parallel with its input, and so are these values.");
        }
        if (measurement.curve().values().stream().anyMatch(v -> v.isMeasured() && Double.isNaN(v.reactanceOhm()))) {
            notes.add("The curve has no phase: the circuit follows from magnitude and resistance alone.");
        }
        return notes;
    }

    private static List<String> comments(CircuitOutcome outcome) {
        List<String> out = new ArrayList<>();
        out.add("Output impedance of " + ascii(outcome.microphone()) + ": " + outcome.circuit());
        out.add(NetlistFile.MARK + Version.current()
                + "; put it in series with the open-circuit voltage, the output is the other pin");
        out.add(String.format(
                Locale.ROOT,
                "fitted from %.1f Hz to %.0f Hz; off by %s %% rms, %s %% at most",
                outcome.lowestHz(),
                outcome.highestHz(),
                Numbers.digits(outcome.misfit().rmsPercent(), 2),
                Numbers.digits(outcome.misfit().worstPercent(), 2)));
        for (CircuitOutcome.Value v : outcome.values()) {
            out.add(
                    v.determined()
                            ? String.format(
                                    Locale.ROOT,
                                    "%s = %.5g, 95 %% from %.5g to %.5g",
                                    v.name(),
                                    v.value(),
                                    v.low(),
                                    v.high())
                            : v.name() + ": not determined by the curve, its part below only serves the whole");
        }
        return out;
    }

    /** Not every SPICE reads other letters, even in comments. */
    private static String ascii(String label) {
        return label.replaceAll("[^ -~]", "?");
    }
}
