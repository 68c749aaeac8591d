package ohmprint.estimation;

import java.util.List;
import java.util.stream.IntStream;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * A resistance in parallel with a capacitance, fitted to a curve.
 *
 * <p>{@code Y = 1/R + jωC}: the conductance is the mean of Re Y, the capacitance the slope of Im Y against ω, each weighted
 * by the inverse noise variance of the admittance, {@code u_n²/|Z|⁴}. Noise goes through the weights; each cause that all
 * bands share goes through the same sums as a whole (JCGM 100:2008, 5.1.2 and F.1.2.3), since it shifts the bands together.
 *
 * @param ohm R in ohms
 * @param ohmU95 its 95 % uncertainty (k = 2)
 * @param farad C in farads
 * @param faradU95 its 95 % uncertainty (k = 2)
 * @param largestMisfit largest distance of a band from the model, relative to |Z|
 * @param worstHz where that is, hertz
 * @param describes whether the model lies within the 95 % uncertainty of noise, or within {@value #CLOSE} of |Z|, in all
 *     but a twentieth of the bands
 */
public record ResistorCapacitorFit(
        double ohm,
        double ohmU95,
        double farad,
        double faradU95,
        double largestMisfit,
        double worstHz,
        boolean describes) {
    private static final int LEAST_BANDS = 6;
    private static final double CLOSE = 0.01;
    private static final double SHARE_OUTSIDE = 0.05;
    private static final double K95 = 2;

    /** Weighted sums over the bands. */
    private record Sums(double[] weight, double[] omega, double total, double squares) {
        double conductance(double[] re) {
            return IntStream.range(0, weight.length)
                            .mapToDouble(i -> weight[i] * re[i])
                            .sum()
                    / total;
        }

        double capacitance(double[] im) {
            return IntStream.range(0, weight.length)
                            .mapToDouble(i -> weight[i] * omega[i] * im[i])
                            .sum()
                    / squares;
        }
    }

    /**
     * Fits.
     *
     * @return null with fewer than {@value #LEAST_BANDS} bands that hold a complex value, or without a covariance
     */
    public static @Nullable ResistorCapacitorFit of(ImpedanceCurve curve) {
        CurveCovariance covariance = curve.covariance();
        if (covariance == null) {
            return null;
        }
        List<BandValue> values = curve.values();
        int[] bands = IntStream.range(0, values.size())
                .filter(b -> values.get(b).isMeasured() && covariance.noise(b) != null)
                .toArray();
        if (bands.length < LEAST_BANDS) {
            return null;
        }
        int n = bands.length;
        double[] weight = new double[n];
        double[] omega = new double[n];
        double[] noise = new double[n];
        Complex[] y = new Complex[n];
        double total = 0;
        double squares = 0;
        for (int i = 0; i < n; i++) {
            BandValue v = values.get(bands[i]);
            y[i] = new Complex(v.resistanceOhm(), v.reactanceOhm()).reciprocal();
            PlaneCovariance own = covariance.noise(bands[i]);
            double power = own == null ? 0 : (own.varR() + own.varX()) / 2;
            noise[i] = Math.sqrt(power) * Math.pow(y[i].abs(), 2);
            weight[i] = 1 / (noise[i] * noise[i] + Math.pow(LEAST_NOISE * y[i].abs(), 2));
            omega[i] = 2 * Math.PI * v.frequencyHz();
            total += weight[i];
            squares += weight[i] * omega[i] * omega[i];
        }
        Sums sums = new Sums(weight, omega, total, squares);
        double g = sums.conductance(parts(y, true));
        double c = sums.capacitance(parts(y, false));
        double varG = 1 / total;
        double varC = 1 / squares;
        for (SharedCause cause : covariance.causes()) {
            Complex[] moved = new Complex[n];
            for (int i = 0; i < n; i++) {
                moved[i] = new Complex(cause.resistanceOhm(bands[i]), cause.reactanceOhm(bands[i]))
                        .multiply(y[i])
                        .multiply(y[i])
                        .negate();
            }
            varG += Math.pow(sums.conductance(parts(moved, true)), 2);
            varC += Math.pow(sums.capacitance(parts(moved, false)), 2);
        }
        return judged(values, bands, y, noise, omega, g, c, Math.sqrt(varG), Math.sqrt(varC));
    }

    /** A band that is known better than this, relatively, does not count for more. */
    private static final double LEAST_NOISE = 1e-5;

    private static ResistorCapacitorFit judged(
            List<BandValue> values,
            int[] bands,
            Complex[] y,
            double[] noise,
            double[] omega,
            double g,
            double c,
            double uG,
            double uC) {
        double worst = 0;
        double at = values.get(bands[0]).frequencyHz();
        int outside = 0;
        for (int i = 0; i < y.length; i++) {
            double off = new Complex(g, omega[i] * c).subtract(y[i]).abs() / y[i].abs();
            if (off > worst) {
                worst = off;
                at = values.get(bands[i]).frequencyHz();
            }
            outside += off > Math.max(CLOSE, 2.5 * noise[i] / y[i].abs()) ? 1 : 0;
        }
        return new ResistorCapacitorFit(
                1 / g, K95 * uG / (g * g), c, K95 * uC, worst, at, outside <= SHARE_OUTSIDE * y.length && g > 0);
    }

    private static double[] parts(Complex[] values, boolean real) {
        double[] out = new double[values.length];
        for (int i = 0; i < out.length; i++) {
            out[i] = real ? values[i].getReal() : values[i].getImaginary();
        }
        return out;
    }
}
