package ohmprint.circuit;

import java.util.Arrays;
import java.util.function.IntToDoubleFunction;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.interpolation.SplineInterpolator;
import org.apache.commons.math3.complex.Complex;

/**
 * A source impedance known at several frequencies: R and X each run as a natural cubic spline over ln f.
 *
 * <p>Beyond the first and the last frequency nothing is known, and asking is an error.
 */
public final class MeasuredSource implements SourceModel {
    private static final int LEAST_POINTS = 3;

    private final double lowestHz;
    private final double highestHz;
    private final UnivariateFunction resistance;
    private final UnivariateFunction reactance;

    /**
     * A source through points.
     *
     * @param hz frequencies in hertz, positive and ascending, three or more
     * @param ohms impedance at each, in ohms, finite
     * @throws IllegalArgumentException if lengths differ or a value is outside its range
     */
    public MeasuredSource(double[] hz, Complex[] ohms) {
        if (hz.length < LEAST_POINTS || ohms.length != hz.length) {
            throw new IllegalArgumentException(
                    "a source curve needs three or more points of frequency and impedance, not " + hz.length + " and "
                            + ohms.length);
        }
        for (int i = 0; i < hz.length; i++) {
            if (!(hz[i] > (i == 0 ? 0 : hz[i - 1])) || !Double.isFinite(hz[i]) || !Double.isFinite(ohms[i].abs())) {
                throw new IllegalArgumentException("point " + (i + 1) + " of the source curve is " + ohms[i] + " Ω at "
                        + hz[i] + " Hz; give finite values at positive frequencies in ascending order");
            }
        }
        lowestHz = hz[0];
        highestHz = hz[hz.length - 1];
        Complex[] z = ohms.clone();
        resistance = overLogFrequency(hz, i -> z[i].getReal());
        reactance = overLogFrequency(hz, i -> z[i].getImaginary());
    }

    private static UnivariateFunction overLogFrequency(double[] hz, IntToDoubleFunction value) {
        double[] y = new double[hz.length];
        Arrays.setAll(y, value);
        return new SplineInterpolator()
                .interpolate(Arrays.stream(hz).map(Math::log).toArray(), y);
    }

    /** First frequency in hertz. */
    public double lowestHz() {
        return lowestHz;
    }

    /** Last frequency in hertz. */
    public double highestHz() {
        return highestHz;
    }

    /**
     * Z(f) in ohms.
     *
     * @throws IllegalArgumentException if the frequency lies outside {@link #lowestHz()} to {@link #highestHz()}
     */
    @Override
    public Complex impedance(double hz) {
        if (!(hz >= lowestHz && hz <= highestHz)) {
            throw new IllegalArgumentException("the source curve covers " + Quantity.text(lowestHz) + " Hz to "
                    + Quantity.text(highestHz) + " Hz, not " + hz + " Hz; stay within it");
        }
        double x = Math.log(hz);
        return new Complex(resistance.value(x), reactance.value(x));
    }
}
