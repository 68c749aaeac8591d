package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.circuit.fit.CircuitFit;
import ohmprint.circuit.fit.Estimate;
import ohmprint.circuit.fit.FittedCircuit;
import ohmprint.curve.Measurement;
import ohmprint.curve.Rounded;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Words;
import org.jspecify.annotations.Nullable;

/** The electrical circuit that the curve speaks for. */
final class CircuitSection {
    private static final String[] PREFIXES = {"p", "n", "µ", "m", "", "k", "M"};
    private static final int NO_PREFIX = 4;
    private static final double THOUSAND = 1000;

    private CircuitSection() {}

    /** The section, or null when the curve does not hold enough for a circuit. */
    static @Nullable Section of(Measurement m) {
        FittedCircuit circuit;
        try {
            circuit = CircuitFit.of(m.curve(), m.microphone().transducer(), null);
        } catch (IllegalArgumentException e) {
            return null;
        }
        List<List<String>> rows = new ArrayList<>();
        for (Estimate e : circuit.values()) {
            rows.add(row(e));
        }
        if (!circuit.words().contains("inductor")) {
            rows.add(row(circuit.topInductance()));
        }
        return new Section(
                "Electrical circuit",
                List.of(
                        new Words(Phrases.sentence(circuit.words()) + " It follows the curve within "
                                + Rounded.digits(circuit.misfit().rmsPercent(), 2) + " % (root mean square), worst "
                                + Rounded.digits(circuit.misfit().worstPercent(), 2) + " % at "
                                + Rounded.frequency(circuit.misfit().worstHz()) + "."),
                        new Table("Values with their 95 % intervals", List.of("Value", "", "95 % interval"), rows)));
    }

    private static List<String> row(Estimate e) {
        String name = Phrases.capital(e.words().replaceFirst(" q$", ", Q"));
        return e.determined()
                ? List.of(
                        name,
                        prefixed(e.value(), e.unit(), 3),
                        prefixed(e.low(), e.unit(), 3) + " to " + prefixed(e.high(), e.unit(), 3))
                : List.of(name, "not determined", Rounded.NONE);
    }

    /** A value with so many digits and a prefix of its unit. */
    static String prefixed(double value, String unit, int digits) {
        if (unit.isEmpty() || value == 0 || !Double.isFinite(value)) {
            return Rounded.digits(value, digits) + (unit.isEmpty() ? "" : " " + unit);
        }
        int step = (int) Math.floor(Math.log10(Math.abs(value)) / 3);
        step = Math.max(-NO_PREFIX, Math.min(PREFIXES.length - 1 - NO_PREFIX, step));
        return Rounded.digits(value / Math.pow(THOUSAND, step), digits) + " " + PREFIXES[step + NO_PREFIX] + unit;
    }
}
