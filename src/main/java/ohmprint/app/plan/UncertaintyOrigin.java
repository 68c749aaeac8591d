package ohmprint.app.plan;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.BandBudget;

/** Origins of uncertainty by the words that are printed. */
public enum UncertaintyOrigin {
    /** Noise in the takes. */
    NOISE,
    /** Level from take to take. */
    DRIFT,
    /** The resistors. */
    LOADS,
    /** The recording input. */
    INPUT,
    /** Starts of the takes against each other. */
    TIMING;

    /** Its standard uncertainty in ohms. */
    public double of(BandBudget budget) {
        return switch (this) {
            case NOISE -> budget.noise();
            case DRIFT -> budget.drift();
            case LOADS -> budget.loads();
            case INPUT -> budget.input();
            case TIMING -> budget.timing();
        };
    }

    /** The largest of a budget. */
    public static UncertaintyOrigin largest(BandBudget budget) {
        return List.of(values()).stream()
                .max(Comparator.comparingDouble(origin -> origin.of(budget)))
                .orElseThrow();
    }

    /** Lower case. */
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}
