package ohmprint.dsp;

import java.util.Arrays;
import java.util.function.DoubleFunction;
import org.apache.commons.math3.complex.Complex;

/**
 * A finite impulse response that follows a complex frequency response within a band and rings ahead of a sound by no more
 * than a given time.
 *
 * <p>Of all responses h that are zero before −lead and from N − lead on it is the one that minimises
 *
 * <pre>{@code ∫ w(f)·|FFT(h)(f) − target(f)|² df,   w = 1 within the band, small outside}</pre>
 *
 * <p>found by conjugate gradients, a pair of transforms per step. The band is thus followed in magnitude and phase, and
 * outside the target is followed as closely as a response without foresight can. A sampled response needs some lead even
 * where the response behind it needs none: what happens between two samples has parts on both sides of them.
 */
public final class FittedFilter {
    /** Weight outside the band. */
    private static final double OUTSIDE = 1e-4;

    private static final int STEPS = 30;
    /** Remainder of the normal equations, relative to their right side, that ends the search. */
    private static final double DONE = 1e-9;

    private final double[] taps;
    private final int lead;

    private FittedFilter(double[] taps, int lead) {
        this.taps = taps;
        this.lead = lead;
    }

    /**
     * Designs one.
     *
     * @param target wanted response at a frequency in hertz, from 0 to half the rate; real at both ends
     * @param lowHz lower end of the band in hertz
     * @param highHz its upper end
     * @param rate sample rate in hertz
     * @param taps length N, a power of two, 4 or more
     * @param lead samples of the response before time zero, from 0 to below N
     */
    public static FittedFilter of(
            DoubleFunction<Complex> target, double lowHz, double highHz, double rate, int taps, int lead) {
        if (lead < 0 || lead >= taps) {
            throw new IllegalArgumentException(
                    "a response of " + taps + " samples cannot begin " + lead + " samples early; give fewer");
        }
        int n = 2 * taps;
        RealFourier fourier = RealFourier.ofLength(n);
        double[] weight = new double[n / 2 + 1];
        double[] wanted = new double[n];
        for (int i = 0; i <= n / 2; i++) {
            double hz = i * rate / n;
            weight[i] = hz >= lowHz && hz <= highHz ? 1 : OUTSIDE;
            Complex value = target.apply(hz);
            if (i == 0 || i == n / 2) {
                wanted[i == 0 ? 0 : 1] = value.getReal();
            } else {
                wanted[2 * i] = value.getReal();
                wanted[2 * i + 1] = value.getImaginary();
            }
        }
        return new FittedFilter(new Search(fourier, weight, taps, lead).solve(wanted), lead);
    }

    /** The response; its sample {@link #lead()} belongs to time zero. */
    public double[] taps() {
        return taps.clone();
    }

    /**
     * What the filter does at a frequency.
     *
     * @param hz frequency in hertz
     * @param rate sample rate in hertz
     */
    public Complex response(double hz, double rate) {
        double re = 0;
        double im = 0;
        for (int i = 0; i < taps.length; i++) {
            double angle = 2 * Math.PI * hz / rate * (i - lead);
            re += taps[i] * Math.cos(angle);
            im -= taps[i] * Math.sin(angle);
        }
        return new Complex(re, im);
    }

    /** Samples before time zero. */
    public int lead() {
        return lead;
    }

    /** Conjugate gradients on the normal equations; sequences are kept circular, times before zero at their end. */
    private record Search(RealFourier fourier, double[] weight, int taps, int lead) {
        double[] solve(double[] wanted) {
            double[] h = wanted.clone();
            fourier.inverse(h);
            cut(h);
            double[] rest = wanted.clone();
            project(rest);
            double first = dot(rest, rest);
            double[] begun = image(h);
            for (int k = 0; k < rest.length; k++) {
                rest[k] -= begun[k];
            }
            double[] step = rest.clone();
            double power = dot(rest, rest);
            for (int i = 0; i < STEPS && power > DONE * DONE * first; i++) {
                double[] image = image(step);
                double length = power / dot(step, image);
                for (int k = 0; k < h.length; k++) {
                    h[k] += length * step[k];
                    rest[k] -= length * image[k];
                }
                double next = dot(rest, rest);
                double turn = next / power;
                for (int k = 0; k < h.length; k++) {
                    step[k] = rest[k] + turn * step[k];
                }
                power = next;
            }
            double[] out = new double[taps];
            System.arraycopy(h, h.length - lead, out, 0, lead);
            System.arraycopy(h, 0, out, lead, taps - lead);
            return out;
        }

        /** The operator of the normal equations on a sequence. */
        private double[] image(double[] sequence) {
            double[] out = sequence.clone();
            fourier.forward(out);
            project(out);
            return out;
        }

        /** Of a spectrum, weighted: the part at the times that the response may have. */
        private void project(double[] spectrum) {
            weigh(spectrum);
            fourier.inverse(spectrum);
            cut(spectrum);
        }

        private void weigh(double[] spectrum) {
            spectrum[0] *= weight[0];
            spectrum[1] *= weight[weight.length - 1];
            for (int i = 1; i < weight.length - 1; i++) {
                spectrum[2 * i] *= weight[i];
                spectrum[2 * i + 1] *= weight[i];
            }
        }

        private void cut(double[] x) {
            Arrays.fill(x, taps - lead, x.length - lead, 0);
        }

        private static double dot(double[] a, double[] b) {
            double sum = 0;
            for (int i = 0; i < a.length; i++) {
                sum += a[i] * b[i];
            }
            return sum;
        }
    }
}
