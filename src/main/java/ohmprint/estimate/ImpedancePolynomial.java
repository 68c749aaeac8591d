package ohmprint.estimate;

import org.apache.commons.math3.linear.RealVector;

/**
 * Z over a band, {@code Z(f) = Σ_j z_j·u^j} with {@code u = ln(f/f_m)}, in ohms.
 *
 * @param hz frequency f_m to which the first coefficient belongs, hertz
 * @param re real parts of z_0, z_1 …, ohms
 * @param im imaginary parts, ohms
 */
record ImpedancePolynomial(double hz, double[] re, double[] im) {
    /** Number of coefficients. */
    int terms() {
        return re.length;
    }

    /** |Z| at f_m, ohms. */
    double modulus() {
        return Math.hypot(re[0], im[0]);
    }

    /** Puts a divider at a frequency with the Z of it; returns u. */
    double place(DividerPoint point, double f) {
        double u = Math.log(f / hz);
        double zRe = 0;
        double zIm = 0;
        for (int j = re.length - 1; j >= 0; j--) {
            zRe = zRe * u + re[j];
            zIm = zIm * u + im[j];
        }
        point.frequency(f);
        point.impedance(zRe, zIm);
        return u;
    }

    /** This less a multiple of another. */
    ImpedancePolynomial less(RealVector otherRe, RealVector otherIm, double scale) {
        double[] newRe = new double[re.length];
        double[] newIm = new double[im.length];
        for (int j = 0; j < re.length; j++) {
            newRe[j] = re[j] - scale * otherRe.getEntry(j);
            newIm[j] = im[j] - scale * otherIm.getEntry(j);
        }
        return new ImpedancePolynomial(hz, newRe, newIm);
    }
}
