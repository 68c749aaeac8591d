package ohmprint.circuit;

import java.util.function.DoubleUnaryOperator;
import ohmprint.curve.PredictedValue;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * Noise at an input that a measured source drives, over the bands of the range in which the source is known, at most 20 Hz
 * to 20 kHz:
 *
 * <pre>{@code
 * U² = ∫ (4kT·Re{W} + e² + i²·|W|²)·w(f) df,   W = Z ∥ Z_L = Z/(1 + ZY)
 * }</pre>
 *
 * <p>with e and i of the amplifier and w = 1, or the square of weighting A. The real part counts the load as a resistor at
 * the same temperature; an input whose resistance comes from feedback is quieter. Z is taken as constant within a band.
 * Nothing is added for frequencies about which the curve says nothing: {@link #coveredHz} tells how much there is.
 */
public final class LoadedNoise {
    private static final double LOWEST_HZ = 20;
    private static final double HIGHEST_HZ = 20_000;
    private static final int PIECES = 8;
    private static final double SAME_DB = 1e-9;
    private static final double DB_PER_RELATIVE_POWER = 10 / Math.log(10);

    private final LoadedCurve loaded;
    private final SourceCurve source;
    private final InputNoise amplifier;
    private final double kelvin;
    private final DoubleUnaryOperator weight;

    private LoadedNoise(LoadedCurve loaded, InputNoise amplifier, double kelvin, DoubleUnaryOperator weight) {
        this.loaded = loaded;
        this.source = loaded.source();
        this.amplifier = amplifier;
        this.kelvin = kelvin;
        this.weight = weight;
    }

    /**
     * Unweighted noise.
     *
     * @param amplifier what the amplifier adds; of an unknown one the total noise is nothing
     * @param kelvin temperature
     */
    public static LoadedNoise flat(LoadedCurve loaded, InputNoise amplifier, double kelvin) {
        return new LoadedNoise(loaded, amplifier, kelvin, hz -> 1);
    }

    /** Noise through weighting A, likewise. */
    public static LoadedNoise weighted(LoadedCurve loaded, InputNoise amplifier, double kelvin) {
        return new LoadedNoise(loaded, amplifier, kelvin, hz -> AWeighting.gain(hz) * AWeighting.gain(hz));
    }

    /** Bandwidth in hertz over which noise is counted. */
    public double coveredHz() {
        double sum = 0;
        for (int i = source.first(); i <= source.last(); i++) {
            sum += source.band(i).hasValue() ? width(i) : 0;
        }
        return sum;
    }

    private double width(int i) {
        return Math.max(0, Math.min(source.upperEdgeHz(i), HIGHEST_HZ) - Math.max(source.lowerEdgeHz(i), LOWEST_HZ));
    }

    /** Thermal noise alone, in dBu at the input. */
    public PredictedValue thermalDbu() {
        return dbu(new InputNoise(0, 0));
    }

    /** Thermal noise and that of the amplifier, in dBu at the input; nothing when the amplifier's is unknown. */
    public PredictedValue totalDbu() {
        return amplifier.isKnown() ? dbu(amplifier) : PredictedValue.none(Double.NaN);
    }

    private PredictedValue dbu(InputNoise amp) {
        return result(sign -> power(amp, sign), 0, null);
    }

    /**
     * The total noise as the level of a tone of 1 kHz that gives the same voltage at the input, in dB SPL; nothing when
     * the amplifier's noise or the source at 1 kHz is not known.
     *
     * @param openVoltPerPascal open-circuit sensitivity of the microphone at 1 kHz
     */
    public PredictedValue equivalentSplDb(double openVoltPerPascal) {
        if (!amplifier.isKnown() || !loaded.lossAtReference().isValue()) {
            return PredictedValue.none(Double.NaN);
        }
        double shift = loaded.lossAtReference().value() + AudioLevel.splDb(AudioLevel.DBU_VOLT / openVoltPerPascal);
        return result(sign -> power(amplifier, sign), shift, loaded.referenceSensitivities());
    }

    /**
     * What the load costs in signal over noise, in decibels: the equivalent noise level with it, less that of the same
     * microphone and amplifier without any load. Nothing when the amplifier's noise or the source at 1 kHz is not known.
     */
    public PredictedValue penaltyDb() {
        if (!amplifier.isKnown() || !loaded.lossAtReference().isValue()) {
            return PredictedValue.none(Double.NaN);
        }
        LoadedNoise open = new LoadedNoise(LoadedCurve.open(source), amplifier, kelvin, weight);
        double[] db = new double[2];
        Sensitivities slopes = loaded.nothing();
        for (int branch = 0; branch < 2; branch++) {
            Power with = power(amplifier, branch == 1);
            Power without = open.power(amplifier, branch == 1);
            db[branch] = with.db() - without.db() + loaded.lossAtReference().value();
            slopes = with.slopes().plus(without.slopes(), -1).plus(loaded.referenceSensitivities(), 1);
        }
        return either(db[0], db[1], slopes.standardUncertainty());
    }

    private interface Branch {
        Power of(boolean conjugate);
    }

    private PredictedValue result(Branch branch, double shiftDb, @Nullable Sensitivities more) {
        if (coveredHz() == 0) {
            return PredictedValue.none(Double.NaN);
        }
        Power one = branch.of(false);
        Sensitivities slopes = more == null ? one.slopes() : one.slopes().plus(more, 1);
        double scale = -20 * Math.log10(AudioLevel.DBU_VOLT);
        return either(one.db() + scale + shiftDb, branch.of(true).db() + scale + shiftDb, slopes.standardUncertainty());
    }

    /** One value where the sign of X changes nothing, else bounds. */
    private static PredictedValue either(double db, double other, double standardUncertainty) {
        if (Math.abs(other - db) < SAME_DB) {
            return PredictedValue.of(db, standardUncertainty, Double.NaN);
        }
        double reach = PredictedValue.COVERAGE * standardUncertainty;
        return PredictedValue.between(Math.min(db, other) - reach, Math.max(db, other) + reach, Double.NaN);
    }

    /**
     * Power of noise.
     *
     * @param db relative to 1 V²
     * @param slopes of that, in decibels
     */
    private record Power(double db, Sensitivities slopes) {}

    /** Power over all bands; with the sign of X unknown, for the one or the other. */
    private Power power(InputNoise amp, boolean conjugate) {
        double sum = 0;
        Sensitivities slopes = loaded.nothing();
        double thermal = ThermalNoise.density(1, kelvin);
        double current = amp.amperePerRootHz() * amp.amperePerRootHz();
        for (int i = source.first(); i <= source.last(); i++) {
            SourceBand band = source.band(i);
            double share = band.hasValue() ? weightOf(i) : 0;
            if (share > 0) {
                boolean turned = conjugate && band.kind() == SourceBand.Kind.UNSIGNED;
                Complex z = turned ? band.ohms().conjugate() : band.ohms();
                Complex h = Divider.response(z, loaded.siemens(i));
                Complex w = z.multiply(h);
                sum += share * (thermal * w.getReal() + amp.density(w.abs()));
                // dW = h²·dZ − W²·dY, and d|W|² = 2·Re(W*·dW).
                Complex by = w.conjugate().multiply(2 * current).add(thermal).multiply(share);
                slopes.addBand(i, by.multiply(h).multiply(h));
                Complex[] effects = loaded.effects(i);
                for (int l = 0; l < effects.length; l++) {
                    slopes.addLoad(
                            l, -by.multiply(w).multiply(w).multiply(effects[l]).getReal());
                }
            }
        }
        return new Power(10 * Math.log10(sum), slopes.times(DB_PER_RELATIVE_POWER / sum));
    }

    /** Integral of the weight over a band, by the midpoints of pieces. */
    private double weightOf(int i) {
        double width = width(i);
        double low = Math.max(source.lowerEdgeHz(i), LOWEST_HZ);
        double sum = 0;
        for (int k = 0; k < PIECES; k++) {
            sum += weight.applyAsDouble(low + width * (k + 0.5) / PIECES);
        }
        return width * sum / PIECES;
    }
}
