package ohmprint.session;

import java.util.List;
import ohmprint.circuit.Dual;
import ohmprint.circuit.Load;
import ohmprint.curve.Permitted;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.Node;

/** One take of an input measurement: a resistor in series, kept as the load that stands for it, see {@link Dual}. */
final class SeriesTakeSection {
    private static final String OHM = "series_ohm";
    private static final String TOLERANCE = "series_tolerance_percent";
    private static final String UNCERTAINTY = "series_u_ohm";
    private static final List<String> KEYS = List.of("file", OHM, TOLERANCE, UNCERTAINTY, "channel", "note", "time");

    private SeriesTakeSection() {}

    /** Null when something is wrong with the take, which goes to the problems. */
    static @Nullable TakeSection read(Node node, int index, Problems problems) {
        return TakeSection.read(node, index, problems, KEYS, SeriesTakeSection::series);
    }

    private static @Nullable Load series(Section part) {
        Double tolerance = part.fromZero(TOLERANCE, 100, "%");
        Double uncertainty = part.zeroOrWithin(UNCERTAINTY, Permitted.UNCERTAINTY_OHM);
        if (!part.require(OHM, "give the resistor between generator and input in ohms, or 0 for none")) {
            return null;
        }
        Double ohm = part.fromZero(OHM, Double.POSITIVE_INFINITY, "Ω");
        if (part.has(TOLERANCE) && part.has(UNCERTAINTY)) {
            part.report(UNCERTAINTY, "is given beside " + TOLERANCE + "; keep one of the two");
        }
        if (ohm == null || (part.has(UNCERTAINTY) && uncertainty == null)) {
            return null;
        }
        if (ohm == 0 && part.has(UNCERTAINTY)) {
            part.report(UNCERTAINTY, "has no meaning without a resistor; delete it");
            return null;
        }
        if (uncertainty == null) {
            return Dual.series(ohm, tolerance == null ? Assumed.LOAD_TOLERANCE_PERCENT : tolerance);
        }
        if (uncertainty >= ohm) {
            part.report(
                    UNCERTAINTY,
                    "is " + part.shown(UNCERTAINTY) + " Ω, not below " + OHM
                            + "; give the standard uncertainty of the resistor in ohms");
            return null;
        }
        return Dual.measuredSeries(ohm, uncertainty);
    }
}
