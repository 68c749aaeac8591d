package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.Consistency.Octave;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/** How well the takes agree, in the sentences that terminal, page, report, library and check have in common. */
public final class ConsistencyWords {
    /** Probability below which chance is a poor explanation. */
    private static final double CHANCE = 0.01;
    /** What the takes leave over, relative to the noise, from which on it is worth a remark. */
    private static final double MUCH = 1.5;

    private static final double LEAST_SHOWN = 0.001;

    private ConsistencyWords() {}

    /** One to three sentences without a full stop; none where nothing was fitted to all bands. */
    public static List<String> of(@Nullable Consistency consistency) {
        List<String> out = new ArrayList<>();
        if (consistency == null) {
            return out;
        }
        if (consistency.isContradicted()) {
            out.add("the takes contradict each other or what was entered" + where(consistency)
                    + "; errors common to all bands are carried as entered, not fitted");
        }
        ChiSquare entered = consistency.entered();
        if (entered != null) {
            out.add((isAsEntered(consistency)
                            ? "the entered values are consistent with the takes"
                            : "the entered values are inconsistent with the takes: check loads, gain and input")
                    + numbers(entered));
        }
        ChiSquare takes = consistency.takes();
        if (takes != null) {
            out.add(String.format(
                            Locale.ROOT,
                            takes.ratio() > MUCH
                                    ? "residual-to-noise power ratio %s, which widens the intervals"
                                    : "residual-to-noise power ratio %s",
                            Numbers.digits(takes.ratio(), 3))
                    + numbers(takes));
        }
        return out;
    }

    /** Whether it may be said that the takes agree: they were compared, with each other and with what was entered. */
    public static boolean agree(@Nullable Consistency consistency) {
        return consistency != null
                && (consistency.takes() != null || consistency.entered() != null)
                && !consistency.isContradicted()
                && isAsEntered(consistency);
    }

    /** {@code  in the octave at 80 Hz, residual-to-noise power ratio 115}, or nothing. */
    static String where(Consistency consistency) {
        List<Octave> octaves = consistency.contradicting();
        if (octaves.isEmpty()) {
            return "";
        }
        Octave worst = octaves.stream()
                .max(Comparator.comparingDouble(o -> o.left().ratio()))
                .orElseThrow();
        return String.format(
                Locale.ROOT,
                " in %s, residual-to-noise power ratio up to %s in the octave at %s",
                octaves.size() == 1
                        ? "one octave"
                        : octaves.size() + " of " + consistency.octaves().size() + " octaves",
                Numbers.digits(worst.left().ratio(), 2),
                Numbers.frequency(worst.frequencyHz()));
    }

    private static boolean isAsEntered(Consistency consistency) {
        ChiSquare entered = consistency.entered();
        return entered == null || entered.pValue() >= CHANCE;
    }

    private static String numbers(ChiSquare chi) {
        double p = chi.pValue();
        return String.format(
                Locale.ROOT,
                " (χ² %s, %.0f degrees of freedom, p %s)",
                Numbers.digits(chi.value(), 4),
                chi.freedom(),
                p < LEAST_SHOWN ? "below 0.001" : String.format(Locale.ROOT, "%.2g", p));
    }
}
