package ohmprint.conformity;

import ohmprint.conformity.Limits.Side;
import ohmprint.impedance.BandStatus;
import org.jspecify.annotations.Nullable;

/**
 * |Z| at one frequency against its limits.
 *
 * @param hz frequency in hertz
 * @param status what the curve holds there: a value, bounds alone, or nothing
 * @param interpolated true when the frequency lies between two midbands
 * @param ohm measured |Z| in ohms; NaN without a value
 * @param u95Ohm its 95 % expanded uncertainty in ohms, with that of the limits; NaN without a value
 * @param boundLowOhm lower bound in ohms where there are only bounds, else NaN
 * @param boundHighOhm upper bound in ohms where there are only bounds, else NaN
 * @param limits the limits there
 * @param guardOhm how far beyond a limit a value has to lie to be called outside, ohms; NaN without a value
 * @param probability conformance probability, NaN without a value
 * @param conformity the answer
 * @param side the limit that is violated or nearer in units of the uncertainty; null where nothing is known
 */
public record BandCheck(
        double hz,
        BandStatus status,
        boolean interpolated,
        double ohm,
        double u95Ohm,
        double boundLowOhm,
        double boundHighOhm,
        Limits limits,
        double guardOhm,
        double probability,
        Conformity conformity,
        @Nullable Side side) {

    /**
     * How far the value, or the nearer bound, lies beyond the limit of {@link #side}, in ohms; negative inside, NaN where
     * nothing is known.
     */
    public double beyondOhm() {
        if (side == null) {
            return Double.NaN;
        }
        boolean value = status == BandStatus.MEASURED;
        return side == Side.LOW
                ? limits.lowOhm() - (value ? ohm : boundHighOhm)
                : (value ? ohm : boundLowOhm) - limits.highOhm();
    }

    /** The same as a share of the limit in percent. */
    public double beyondPercent() {
        return side == null ? Double.NaN : 100 * beyondOhm() / limits.of(side);
    }
}
