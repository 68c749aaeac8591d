package ohmprint.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.ChiSquare;
import ohmprint.curve.Consistency;
import ohmprint.curve.Rounded;

/** How well the takes agree, in sentences. */
final class ConsistencyText {
    /** Probability below which chance is no explanation. */
    private static final double CHANCE = 0.01;
    /** What the takes leave over, relative to the noise, from which on it is worth a remark. */
    private static final double MUCH = 1.5;

    private static final double LEAST_SHOWN = 0.001;

    private ConsistencyText() {}

    /** One or two sentences, or none where nothing was fitted to all bands. */
    static List<String> of(Consistency consistency) {
        List<String> out = new ArrayList<>();
        ChiSquare entered = consistency.entered();
        if (entered != null) {
            out.add((entered.pValue() < CHANCE
                            ? "levels, loads or input are farther from what was entered than its uncertainty explains"
                            : "levels, loads and input are as entered, within their uncertainty")
                    + numbers(entered));
        }
        ChiSquare takes = consistency.takes();
        if (takes != null) {
            out.add(String.format(
                            Locale.ROOT,
                            takes.ratio() > MUCH
                                    ? "the takes leave over %.2f times the power of their noise, which widens the intervals"
                                    : "the takes leave over %.2f times the power of their noise",
                            takes.ratio())
                    + numbers(takes));
        }
        return out;
    }

    private static String numbers(ChiSquare chi) {
        double p = chi.pValue();
        return String.format(
                Locale.ROOT,
                " (χ² %s, %.0f degrees of freedom, p %s)",
                Rounded.digits(chi.value(), 4),
                chi.freedom(),
                p < LEAST_SHOWN ? "below 0.001" : String.format(Locale.ROOT, "%.2g", p));
    }
}
