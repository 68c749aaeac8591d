package ohmprint.impedance;

import java.util.Arrays;
import java.util.Comparator;
import java.util.function.ToDoubleFunction;

/**
 * Standard uncertainties of |Z| in one band by origin, all in ohms; they add in quadrature.
 *
 * @param noise what is random from bin to bin: ambient noise, hum remnants, converter noise
 * @param drift gain changes between takes: source level, position, preamplifier
 * @param loads tolerance of the load resistors
 * @param input what is not known of the recording input and its cable
 * @param timing residual delay between takes
 */
public record BandBudget(double noise, double drift, double loads, double input, double timing) {
    /** A budget whose parts are given origin by origin, ohms. */
    public static BandBudget of(ToDoubleFunction<CauseOrigin> part) {
        return new BandBudget(
                part.applyAsDouble(CauseOrigin.NOISE),
                part.applyAsDouble(CauseOrigin.DRIFT),
                part.applyAsDouble(CauseOrigin.LOADS),
                part.applyAsDouble(CauseOrigin.INPUT),
                part.applyAsDouble(CauseOrigin.TIMING));
    }

    /** The part of one origin in ohms. */
    public double of(CauseOrigin origin) {
        return switch (origin) {
            case NOISE -> noise;
            case DRIFT -> drift;
            case LOADS -> loads;
            case INPUT -> input;
            case TIMING -> timing;
        };
    }

    /** Where the largest part comes from. */
    public CauseOrigin largest() {
        return Arrays.stream(CauseOrigin.values())
                .max(Comparator.comparingDouble(this::of))
                .orElseThrow();
    }

    /** Combined standard uncertainty in ohms: the root sum of squares. */
    public double combined() {
        return Math.sqrt(noise * noise + drift * drift + loads * loads + input * input + timing * timing);
    }

    /** The same with every part times a factor. */
    public BandBudget times(double factor) {
        return of(origin -> of(origin) * factor);
    }

    /** Part by part the sum, as of errors that act together. */
    BandBudget plus(BandBudget o) {
        return of(origin -> of(origin) + o.of(origin));
    }
}
