package ohmprint.circuit;

import java.util.function.DoubleFunction;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import ohmprint.impedance.PredictedValue;

/**
 * The least load resistance with which something stays within a limit: with it and with every higher one, up to where the
 * limit is left again, if it is.
 *
 * <p>Searched from {@value #HIGHEST_OHM} Ω down to {@value #LOWEST_OHM} Ω in 24 steps per decade, the edges then halved
 * until they are exact. With a cable across the load a high resistance may leave the limit again, because it no longer
 * damps the resonance of the source's inductance with the cable.
 *
 * @param ohm the least load in ohms with its uncertainty, or bounds; its frequency is where the limit is met; {@value
 *     #LOWEST_OHM} Ω when any load will do, nothing when none does
 * @param upToOhm the highest load of that run; infinite when there is no such limit
 */
public record LeastLoad(PredictedValue ohm, double upToOhm) {
    /** Lowest load that is looked at, in ohms. */
    public static final double LOWEST_OHM = 1;

    /** Highest load that is looked at, in ohms. */
    public static final double HIGHEST_OHM = 1e7;

    private static final int STEPS_PER_DECADE = 24;
    private static final double EXACT = 1e-10;
    private static final double SMALL_STEP = 1e-4;

    /** True when even the lowest load keeps the limit. */
    public boolean isAny() {
        return ohm.least() == LOWEST_OHM && !(ohm.most() > LOWEST_OHM);
    }

    /**
     * Searches.
     *
     * @param source the source
     * @param load what a resistance in ohms becomes with all that lies across it
     * @param quantity what has to stay within the limit, such as {@link LoadedCurve#worstLoss}
     * @param limit the limit, in the unit of the quantity
     */
    public static LeastLoad search(
            SourceCurve source,
            DoubleFunction<InputImpedance> load,
            Function<LoadedCurve, PredictedValue> quantity,
            double limit) {
        return new Search(ohm -> quantity.apply(LoadedCurve.of(source, load.apply(ohm))), limit).run();
    }

    private record Search(DoubleFunction<PredictedValue> quantity, double limit) {
        LeastLoad run() {
            Run most = run(PredictedValue::most);
            Run least = run(PredictedValue::least);
            if (most.low == least.low) {
                return new LeastLoad(value(most.low), most.high);
            }
            double hz = Double.isNaN(most.low)
                    ? Double.NaN
                    : quantity.apply(most.low).hz();
            double high = Double.isNaN(most.low) ? Double.POSITIVE_INFINITY : most.low;
            return new LeastLoad(
                    Double.isNaN(least.low)
                            ? PredictedValue.none(Double.NaN)
                            : PredictedValue.between(least.low, high, hz),
                    most.high);
        }

        private PredictedValue value(double ohm) {
            if (Double.isNaN(ohm)) {
                return PredictedValue.none(Double.NaN);
            }
            PredictedValue there = quantity.apply(ohm);
            if (ohm == LOWEST_OHM) {
                return PredictedValue.of(ohm, 0, there.hz());
            }
            double above = quantity.apply(ohm * (1 + SMALL_STEP)).value();
            double below = quantity.apply(ohm * (1 - SMALL_STEP)).value();
            double perOhm = Math.abs(above - below) / (2 * SMALL_STEP * ohm);
            return new PredictedValue(ohm, there.u95() / perOhm, Double.NaN, Double.NaN, there.hz());
        }

        /** The topmost run of loads within the limit; NaN for none. */
        private Run run(ToDoubleFunction<PredictedValue> of) {
            int steps = (int) Math.round(STEPS_PER_DECADE * Math.log10(HIGHEST_OHM / LOWEST_OHM));
            double high = Double.NaN;
            for (int k = steps; k >= 0; k--) {
                boolean kept = keeps(at(k), of);
                if (kept && Double.isNaN(high)) {
                    high = k == steps ? Double.POSITIVE_INFINITY : edge(at(k), at(k + 1), of);
                } else if (!kept && !Double.isNaN(high)) {
                    return new Run(edge(at(k + 1), at(k), of), high);
                }
            }
            return new Run(Double.isNaN(high) ? Double.NaN : LOWEST_OHM, high);
        }

        private double at(int step) {
            return LOWEST_OHM * Math.pow(10, step / (double) STEPS_PER_DECADE);
        }

        private boolean keeps(double ohm, ToDoubleFunction<PredictedValue> of) {
            return of.applyAsDouble(quantity.apply(ohm)) <= limit;
        }

        /** The load between one that keeps the limit and one that does not, on the side that keeps it. */
        private double edge(double keeping, double leaving, ToDoubleFunction<PredictedValue> of) {
            double in = keeping;
            double out = leaving;
            while (Math.abs(out / in - 1) > EXACT) {
                double middle = Math.sqrt(in * out);
                if (keeps(middle, of)) {
                    in = middle;
                } else {
                    out = middle;
                }
            }
            return in;
        }
    }

    /**
     * Loads within a limit.
     *
     * @param low the lowest in ohms
     * @param high the highest in ohms, infinite without such a limit
     */
    private record Run(double low, double high) {}
}
