package ohmprint.circuit;

import java.util.stream.IntStream;
import ohmprint.circuit.SourceCurve.SourceBand;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import org.apache.commons.math3.complex.Complex;

/**
 * How one result depends, to first order, on everything that is uncertain: R and X of each band, or R and |Z| where the sign of
 * X is not known, and the influences of the load. Its variance is
 *
 * <pre>{@code
 * u² = Σ_i [a_i b_i]·C_i·[a_i b_i]ᵀ + Σ_k (Σ_i a_i·dR_ik + b_i·dX_ik)² + Σ_i w_i² + Σ_i s_i² + Σ_l c_l²
 * }</pre>
 *
 * with a, b the derivatives by R and X of band i, C_i what is uncertain in that band alone, (dR, dX)_ik what shared cause
 * k does to band i, w_i the standard uncertainty by R and |Z| of a band without the sign of X, s_i half of what the sign of X changes where it is not known, and c_l what one standard deviation of influence l of the load changes. Differences of results are made
 * of these before the variance is, so that what moves both cancels. Source: JCGM 100:2008, 5.2 and F.1.2.3.
 */
final class Sensitivities {
    private final SourceCurve source;
    private final double[] byR;
    private final double[] byX;
    private final double[] byMagnitude;
    private final double[] bySign;
    private final double[] byLoad;

    Sensitivities(SourceCurve source, int loadInfluences) {
        this(
                source,
                new double[source.size()],
                new double[source.size()],
                new double[source.size()],
                new double[source.size()],
                new double[loadInfluences]);
    }

    private Sensitivities(
            SourceCurve source, double[] byR, double[] byX, double[] byMagnitude, double[] bySign, double[] byLoad) {
        this.source = source;
        this.byR = byR;
        this.byX = byX;
        this.byMagnitude = byMagnitude;
        this.bySign = bySign;
        this.byLoad = byLoad;
    }

    /** Adds a derivative by the impedance of a band: the result changes by {@code Re(slope·dZ)}. */
    void addBand(int band, Complex slope) {
        byR[band] += slope.getReal();
        byX[band] -= slope.getImaginary();
    }

    /** Adds derivatives by R and by |Z| of a band that does not tell the sign of X. */
    void addUnsigned(int band, double byResistance, double byModulus) {
        byR[band] += byResistance;
        byMagnitude[band] += byModulus;
    }

    /** Adds half of what the unknown sign of X in a band changes. */
    void addSign(int band, double half) {
        bySign[band] += half;
    }

    /** Adds what one standard deviation of an influence of the load changes. */
    void addLoad(int influence, double change) {
        byLoad[influence] += change;
    }

    /** These and a multiple of others, which may depend on another load only if one of the two has no influences. */
    Sensitivities plus(Sensitivities o, double factor) {
        double[] load = new double[Math.max(byLoad.length, o.byLoad.length)];
        add(load, byLoad, 1);
        add(load, o.byLoad, factor);
        double[] r = byR.clone();
        double[] x = byX.clone();
        add(r, o.byR, factor);
        add(x, o.byX, factor);
        double[] magnitude = byMagnitude.clone();
        add(magnitude, o.byMagnitude, factor);
        double[] sign = bySign.clone();
        add(sign, o.bySign, factor);
        return new Sensitivities(source, r, x, magnitude, sign, load);
    }

    /** All multiplied by a factor. */
    Sensitivities times(double factor) {
        return new Sensitivities(source, byLoad.length).plus(this, factor);
    }

    private static void add(double[] to, double[] what, double factor) {
        for (int i = 0; i < what.length; i++) {
            to[i] += factor * what[i];
        }
    }

    /** Standard uncertainty of the result, in its unit. */
    double standardUncertainty() {
        int[] touched = IntStream.range(0, byR.length)
                .filter(i -> byR[i] != 0 || byX[i] != 0 || byMagnitude[i] != 0)
                .toArray();
        double variance = 0;
        for (int i : touched) {
            if (source.band(i).kind() == SourceBand.Kind.UNSIGNED) {
                double u = source.unsigned(i, byR[i], byMagnitude[i]);
                variance += u * u;
                continue;
            }
            double a = byR[i];
            double b = byX[i];
            PlaneCovariance c = source.own(i);
            variance += a * a * c.varR() + 2 * a * b * c.covRX() + b * b * c.varX();
        }
        for (SharedCause cause : source.shared()) {
            double change = 0;
            for (int i : touched) {
                change += byR[i] * effect(cause.resistanceOhm(i)) + byX[i] * effect(cause.reactanceOhm(i));
            }
            variance += change * change;
        }
        variance += squares(bySign) + squares(byLoad);
        return Math.sqrt(Math.max(0, variance));
    }

    private static double squares(double[] values) {
        double sum = 0;
        for (double v : values) {
            sum += v * v;
        }
        return sum;
    }

    /** A band whose own uncertainty stands for all of it has no effect of a shared cause: not a number. */
    private static double effect(double ohm) {
        return Double.isNaN(ohm) ? 0 : ohm;
    }
}
