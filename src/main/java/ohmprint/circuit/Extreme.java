package ohmprint.circuit;

import java.util.List;
import ohmprint.impedance.PredictedValue;

/** The greatest and the least of several predictions, of which some may be bounds or nothing. */
final class Extreme {
    private Extreme() {}

    /**
     * The greatest: a value where none of the bounds reaches beyond it, else bounds of the greatest, at the frequency of
     * the upper one; nothing when there is nothing.
     */
    static PredictedValue greatest(List<PredictedValue> all) {
        PredictedValue value = null;
        PredictedValue bound = null;
        double atLeast = Double.NEGATIVE_INFINITY;
        for (PredictedValue p : all) {
            if (p.isValue() && (value == null || p.value() > value.value())) {
                value = p;
            }
            if (p.isBounded() && (bound == null || p.high() > bound.high())) {
                bound = p;
            }
            atLeast = Double.isNaN(p.least()) ? atLeast : Math.max(atLeast, p.least());
        }
        if (bound == null || (value != null && value.value() >= bound.high())) {
            return value == null ? PredictedValue.none(Double.NaN) : value;
        }
        return PredictedValue.between(atLeast, bound.high(), bound.hz());
    }

    /** Where the greatest is, as an index; −1 when there is none. */
    static int indexOfGreatest(List<PredictedValue> all) {
        int best = -1;
        for (int i = 0; i < all.size(); i++) {
            if (all.get(i).isValue()
                    && (best < 0 || all.get(i).value() > all.get(best).value())) {
                best = i;
            }
        }
        return best;
    }

    /** The least, as {@link #greatest} of the opposites. */
    static PredictedValue least(List<PredictedValue> all) {
        return greatest(opposites(all)).negated();
    }

    /** Where the least is, as an index; −1 when there is none. */
    static int indexOfLeast(List<PredictedValue> all) {
        return indexOfGreatest(opposites(all));
    }

    private static List<PredictedValue> opposites(List<PredictedValue> all) {
        return all.stream().map(PredictedValue::negated).toList();
    }
}
