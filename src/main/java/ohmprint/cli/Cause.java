package ohmprint.cli;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.BandBudget;

/** Origins of uncertainty by the words that are printed. */
enum Cause {
    NOISE,
    DRIFT,
    LOADS,
    INPUT,
    TIMING;

    /** Its standard uncertainty in ohms. */
    double of(BandBudget budget) {
        return switch (this) {
            case NOISE -> budget.noise();
            case DRIFT -> budget.drift();
            case LOADS -> budget.loads();
            case INPUT -> budget.input();
            case TIMING -> budget.timing();
        };
    }

    /** The largest of a budget. */
    static Cause largest(BandBudget budget) {
        return List.of(values()).stream()
                .max(Comparator.comparingDouble(cause -> cause.of(budget)))
                .orElseThrow();
    }

    /** Lower case. */
    String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
