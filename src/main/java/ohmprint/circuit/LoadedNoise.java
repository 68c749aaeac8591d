package ohmprint.circuit;

import java.util.function.DoubleUnaryOperator;
import ohmprint.circuit.SourceCurve.SourceBand;
import ohmprint.impedance.PredictedValue;
import org.apache.commons.math3.complex.Complex;

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
    private static final double AT_DBU = 20 * Math.log10(AudioLevel.DBU_VOLT);
    /** Step of a derivative, relative. */
    private static final double SMALL = 1e-5;

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
        if (coveredHz() == 0) {
            return PredictedValue.none(Double.NaN);
        }
        Power power = power(amp);
        return PredictedValue.of(power.db() - AT_DBU, power.slopes().standardUncertainty(), Double.NaN);
    }

    /**
     * The total noise as the level of a tone of 1 kHz that gives the same voltage at the input, in dB SPL; nothing when
     * the amplifier's noise or the source at 1 kHz is not known.
     *
     * @param openVoltPerPascal open-circuit sensitivity of the microphone at 1 kHz
     */
    public PredictedValue equivalentSplDb(double openVoltPerPascal) {
        PredictedValue loss = loaded.lossAtReference();
        if (!amplifier.isKnown() || !loss.isValue() || coveredHz() == 0) {
            return PredictedValue.none(Double.NaN);
        }
        Power power = power(amplifier);
        return PredictedValue.of(
                power.db() + loss.value() + AudioLevel.splDb(1 / openVoltPerPascal),
                power.slopes().plus(loaded.referenceSensitivities(), 1).standardUncertainty(),
                Double.NaN);
    }

    /**
     * What the load costs in signal over noise, in decibels: the equivalent noise level with it, less that of the same
     * microphone and amplifier without any load. Nothing when the amplifier's noise or the source at 1 kHz is not known.
     */
    public PredictedValue penaltyDb() {
        PredictedValue loss = loaded.lossAtReference();
        if (!amplifier.isKnown() || !loss.isValue() || coveredHz() == 0) {
            return PredictedValue.none(Double.NaN);
        }
        Power with = power(amplifier);
        Power without = new LoadedNoise(LoadedCurve.open(source), amplifier, kelvin, weight).power(amplifier);
        Sensitivities slopes = with.slopes().plus(without.slopes(), -1).plus(loaded.referenceSensitivities(), 1);
        return PredictedValue.of(with.db() - without.db() + loss.value(), slopes.standardUncertainty(), Double.NaN);
    }

    /**
     * Power of noise.
     *
     * @param db relative to 1 V²
     * @param slopes of that, in decibels
     */
    private record Power(double db, Sensitivities slopes) {}

    /** Power over all bands. */
    private Power power(InputNoise amp) {
        double sum = 0;
        Sensitivities slopes = loaded.nothing();
        double thermal = ThermalNoise.density(1, kelvin);
        double current = amp.amperePerRootHz() * amp.amperePerRootHz();
        for (int i = source.first(); i <= source.last(); i++) {
            SourceBand band = source.band(i);
            double share = band.hasValue() ? weightOf(i) : 0;
            if (share > 0) {
                Complex y = loaded.siemens(i);
                Complex h = Divider.response(band.ohms(), y);
                Complex w = band.ohms().multiply(h);
                double half = band.kind() == SourceBand.Kind.UNSIGNED
                        ? (density(amp, band.ohms().conjugate(), y) - density(amp, band.ohms(), y)) / 2
                        : 0;
                sum += share * (density(amp, band.ohms(), y) + half);
                slopes.addSign(i, share * half);
                // dW = h²·dZ − W²·dY, and d|W|² = 2·Re(W*·dW).
                Complex by = w.conjugate().multiply(2 * current).add(thermal).multiply(share);
                if (band.kind() == SourceBand.Kind.UNSIGNED) {
                    addUnsigned(slopes, i, amp, y, share);
                } else {
                    slopes.addBand(i, by.multiply(h).multiply(h));
                }
                Complex[] effects = loaded.effects(i);
                for (int l = 0; l < effects.length; l++) {
                    slopes.addLoad(
                            l, -by.multiply(w).multiply(w).multiply(effects[l]).getReal());
                }
            }
        }
        return new Power(10 * Math.log10(sum), slopes.times(DB_PER_RELATIVE_POWER / sum));
    }

    /** Slopes by R and |Z| of the mean of both signs of X, by small steps to the side on which R stays below |Z|. */
    private void addUnsigned(Sensitivities slopes, int i, InputNoise amp, Complex y, double share) {
        double r = source.band(i).ohms().getReal();
        double m = source.band(i).ohms().abs();
        double step = SMALL * m;
        double here = meanDensity(amp, r, m, y);
        slopes.addUnsigned(
                i,
                share * (here - meanDensity(amp, r - step, m, y)) / step,
                share * (meanDensity(amp, r, m + step, y) - here) / step);
    }

    private double meanDensity(InputNoise amp, double r, double m, Complex y) {
        Complex z = new Complex(r, Math.sqrt(Math.max(0, m * m - r * r)));
        return (density(amp, z, y) + density(amp, z.conjugate(), y)) / 2;
    }

    private double density(InputNoise amp, Complex z, Complex y) {
        Complex w = z.multiply(Divider.response(z, y));
        return ThermalNoise.density(w.getReal(), kelvin) + amp.density(w.abs());
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

    /**
     * Frequency weighting A:
     *
     * <pre>{@code
     * A(f) = 20·lg( f4²·f⁴ / [ (f² + f1²)·√(f² + f2²)·√(f² + f3²)·(f² + f4²) ] ) + 2.000 dB
     * f1 = 20.60 Hz, f2 = 107.7 Hz, f3 = 737.9 Hz, f4 = 12194 Hz
     * }</pre>
     *
     * <p>Source: IEC 61672-1:2013, annex E (formula and exact pole frequencies from memory).
     */
    static final class AWeighting {
        private static final double F1 = 20.598997;
        private static final double F2 = 107.65265;
        private static final double F3 = 737.86223;
        private static final double F4 = 12194.217;
        private static final double AT_REFERENCE = unscaled(1000);

        private AWeighting() {}

        /** Weighting in decibels, 0 at 1 kHz. */
        public static double db(double hz) {
            return 20 * Math.log10(gain(hz));
        }

        /** Weighting as a factor of voltage, 1 at 1 kHz. */
        public static double gain(double hz) {
            return unscaled(hz) / AT_REFERENCE;
        }

        private static double unscaled(double hz) {
            double f = hz * hz;
            return F4 * F4 * f * f / ((f + F1 * F1) * Math.sqrt(f + F2 * F2) * Math.sqrt(f + F3 * F3) * (f + F4 * F4));
        }
    }
}
