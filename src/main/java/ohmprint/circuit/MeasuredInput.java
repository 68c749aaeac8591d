package ohmprint.circuit;

import java.util.Arrays;
import java.util.List;
import java.util.function.IntToDoubleFunction;
import ohmprint.text.Numbers;
import org.apache.commons.math3.analysis.interpolation.LinearInterpolator;
import org.apache.commons.math3.analysis.polynomials.PolynomialSplineFunction;
import org.apache.commons.math3.complex.Complex;

/**
 * An input impedance known at several frequencies. The admittance is interpolated linearly over ln f, real and imaginary
 * part each for itself.
 *
 * <p>Up to half an octave beyond the first and the last frequency the end value holds, so that a curve given at band
 * centres serves the outermost bands up to their edges; further out is an error.
 */
public final class MeasuredInput implements InputImpedance {
    private static final double MARGIN = Math.sqrt(2);

    private final double[] hz;
    private final Complex[] ohms;
    private final double[] relativeStandardUncertainty;
    private final PolynomialSplineFunction conductance;
    private final PolynomialSplineFunction susceptance;
    private final PolynomialSplineFunction uncertainty;

    MeasuredInput(double[] hz, Complex[] ohms, double[] relativeStandardUncertainty) {
        this.hz = hz.clone();
        this.ohms = ohms.clone();
        this.relativeStandardUncertainty = relativeStandardUncertainty.clone();
        check();
        conductance = overLogFrequency(i -> this.ohms[i].reciprocal().getReal());
        susceptance = overLogFrequency(i -> this.ohms[i].reciprocal().getImaginary());
        uncertainty = overLogFrequency(i -> this.relativeStandardUncertainty[i]);
    }

    private void check() {
        if (hz.length < 2 || ohms.length != hz.length || relativeStandardUncertainty.length != hz.length) {
            throw new IllegalArgumentException("an input curve needs two or more points of frequency, impedance and "
                    + "uncertainty, not " + hz.length + ", " + ohms.length + " and "
                    + relativeStandardUncertainty.length);
        }
        for (int i = 0; i < hz.length; i++) {
            if (!(hz[i] > (i == 0 ? 0 : hz[i - 1])) || Double.isInfinite(hz[i])) {
                throw new IllegalArgumentException("point " + (i + 1) + " of the input curve is at " + hz[i]
                        + " Hz; give positive frequencies in ascending order");
            }
            double modulus = ohms[i].abs();
            if (!(modulus > 0) || Double.isInfinite(modulus)) {
                throw new IllegalArgumentException("the input curve is " + modulus + " Ω at " + hz[i]
                        + " Hz; give a finite impedance that is not zero");
            }
            double u = relativeStandardUncertainty[i];
            if (!(u >= 0) || u >= 1) {
                throw new IllegalArgumentException("the relative standard uncertainty of the input curve is " + u
                        + " at " + hz[i] + " Hz; give a fraction from 0 to below 1");
            }
        }
    }

    private PolynomialSplineFunction overLogFrequency(IntToDoubleFunction value) {
        double[] y = new double[hz.length];
        Arrays.setAll(y, value);
        return new LinearInterpolator()
                .interpolate(Arrays.stream(hz).map(Math::log).toArray(), y);
    }

    private double logFrequency(double f) {
        if (!(f >= lowestHz() && f <= highestHz())) {
            throw new IllegalArgumentException("the input curve covers " + Numbers.brief(hz[0]) + " Hz to "
                    + Numbers.brief(hz[hz.length - 1]) + " Hz, which does not serve " + f
                    + " Hz; measure the input further, or narrow the frequency range");
        }
        return Math.log(Math.min(Math.max(f, hz[0]), hz[hz.length - 1]));
    }

    @Override
    public Complex admittance(double f) {
        double x = logFrequency(f);
        return new Complex(conductance.value(x), susceptance.value(x));
    }

    /** Two influences, u·Y and ju·Y: modulus and phase of the whole curve move together. */
    @Override
    public List<Complex> standardEffects(double f) {
        Complex along = admittance(f).multiply(uncertainty.value(logFrequency(f)));
        return List.of(along, along.multiply(Complex.I));
    }

    @Override
    public List<String> influences() {
        return List.of("modulus of the measured input", "phase of the measured input");
    }

    @Override
    public boolean isTolerance(int influence) {
        return false;
    }

    /** Half an octave below the first frequency, in hertz. */
    @Override
    public double lowestHz() {
        return hz[0] / MARGIN;
    }

    /** Half an octave above the last frequency, in hertz. */
    @Override
    public double highestHz() {
        return hz[hz.length - 1] * MARGIN;
    }

    @Override
    public String label() {
        return "measured, " + Numbers.brief(hz[0]) + " Hz to " + Numbers.brief(hz[hz.length - 1]) + " Hz";
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof MeasuredInput m
                && Arrays.equals(m.hz, hz)
                && Arrays.equals(m.ohms, ohms)
                && Arrays.equals(m.relativeStandardUncertainty, relativeStandardUncertainty);
    }

    @Override
    public int hashCode() {
        return (Arrays.hashCode(hz) * 31 + Arrays.hashCode(ohms)) * 31 + Arrays.hashCode(relativeStandardUncertainty);
    }

    @Override
    public String toString() {
        return label();
    }
}
