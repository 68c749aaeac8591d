package ohmprint.study;

import java.util.ArrayList;
import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.estimation.LoadedTakes;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.MatrixUtils;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * The least standard deviation of |Z| that any fit can reach, with the priors as information.
 *
 * <p>Unknown are, per bin, the complex amplitude A; per band, Z and its slope in ln f; and for the whole session the
 * nuisances (gains, delays, resistors, input), each with a Gaussian prior. With the whitened model {@code p = W^½·A·h}, its
 * derivatives {@code D} by the real unknowns, and the projection P off p, the information is {@code 2·Re(DᴴPD)}; the priors
 * add the identity, since nuisances are counted in their standard uncertainties. Written out from the model, by finite
 * differences, without any code of the solvers. Source: H. L. Van Trees, Detection, Estimation, and Modulation Theory I
 * (1968), 2.4.3, the bound for random parameters (recalled from memory).
 */
final class CramerRao {
    /** Real unknowns of a band: R, X and their slopes. */
    private static final int OWN = 4;

    private static final double STEP = 1e-4;

    private final Cell cell;
    private final Spectrum spectrum;
    private final LoadedTakes stated;
    private final List<Deviation> deviations = new ArrayList<>();

    /** Response of take k, relative to A, after a deviation of some standard uncertainties. */
    private interface Deviation {
        Complex response(int k, double hz, Complex z, double amount);
    }

    CramerRao(Cell cell, Spectrum spectrum) {
        this.cell = cell;
        this.spectrum = spectrum;
        this.stated = cell.stated();
        for (int take = 0; take < stated.size(); take++) {
            int moved = take;
            if (cell.drift() > 0) {
                deviations.add(
                        (k, hz, z, t) -> h(k, hz, z, 1, 1, 1).multiply(k == moved ? Math.exp(t * cell.drift()) : 1));
            }
            if (cell.route().delaySeconds() > 0) {
                deviations.add((k, hz, z, t) -> h(k, hz, z, 1, 1, 1)
                        .multiply(new Complex(
                                        0,
                                        k == moved
                                                ? -2
                                                        * Math.PI
                                                        * hz
                                                        * t
                                                        * cell.route().delaySeconds()
                                                : 0)
                                .exp()));
            }
        }
        for (Load load :
                stated.loads().stream().distinct().filter(l -> !l.isOpen()).toList()) {
            deviations.add((k, hz, z, t) -> h(
                    k,
                    hz,
                    z,
                    stated.loads().get(k).equals(load)
                            ? 1 + t * rectangular(cell.tolerance().loadPercent())
                            : 1,
                    1,
                    1));
        }
        deviations.add((k, hz, z, t) ->
                h(k, hz, z, 1, 1 + t * rectangular(cell.tolerance().inputPercent()), 1));
        deviations.add((k, hz, z, t) ->
                h(k, hz, z, 1, 1, 1 + t * rectangular(cell.tolerance().capacitancePercent())));
    }

    private static double rectangular(double percent) {
        return percent / 100 / Math.sqrt(3);
    }

    private Complex h(int k, double hz, Complex z, double load, double resistance, double capacitance) {
        Complex input = stated.input().admittance(hz);
        Complex y = new Complex(
                stated.loads().get(k).conductance() / load + input.getReal() / resistance,
                input.getImaginary() * capacitance);
        return z.multiply(y).add(1).reciprocal();
    }

    /**
     * Standard deviations of |Z| in ohms, one per band that holds bins.
     *
     * @param together whether every band profits from what all bands tell about the nuisances
     */
    double[] magnitudeOhm(boolean together) {
        int n = deviations.size();
        int count = spectrum.chosen.length;
        RealMatrix[] own = new RealMatrix[count];
        RealMatrix[] cross = new RealMatrix[count];
        RealMatrix[] shared = new RealMatrix[count];
        RealMatrix all = MatrixUtils.createRealIdentityMatrix(n);
        for (int c = 0; c < count; c++) {
            RealMatrix information = information(c);
            own[c] = inverse(information.getSubMatrix(0, OWN - 1, 0, OWN - 1));
            cross[c] = information.getSubMatrix(0, OWN - 1, OWN, OWN + n - 1);
            shared[c] = information
                    .getSubMatrix(OWN, OWN + n - 1, OWN, OWN + n - 1)
                    .subtract(cross[c].transpose().multiply(own[c]).multiply(cross[c]));
            all = all.add(shared[c]);
        }
        RealMatrix covarianceOfAll = inverse(all);
        double[] out = new double[count];
        for (int c = 0; c < count; c++) {
            RealMatrix nuisance = together
                    ? covarianceOfAll
                    : inverse(MatrixUtils.createRealIdentityMatrix(n).add(shared[c]));
            RealMatrix gain = own[c].multiply(cross[c]);
            RealMatrix covariance = own[c].add(gain.multiply(nuisance).multiply(gain.transpose()));
            Complex z = cell.circuit().impedance(spectrum.bands.midband(spectrum.chosen[c]));
            double r = z.getReal() / z.abs();
            double x = z.getImaginary() / z.abs();
            out[c] = Math.sqrt(r * r * covariance.getEntry(0, 0)
                    + 2 * r * x * covariance.getEntry(0, 1)
                    + x * x * covariance.getEntry(1, 1));
        }
        return out;
    }

    private static RealMatrix inverse(RealMatrix m) {
        return new LUDecomposition(m).getSolver().getInverse();
    }

    /** Information of the bins of one band about its own unknowns, then the nuisances. */
    private RealMatrix information(int c) {
        int takes = stated.size();
        int unknowns = OWN + deviations.size();
        double centre = spectrum.bands.midband(spectrum.chosen[c]);
        RealMatrix sum = new Array2DRowRealMatrix(unknowns, unknowns);
        for (int i = spectrum.first[c]; i < spectrum.first[c + 1]; i++) {
            double hz = spectrum.hz[i];
            Complex z = spectrum.impedance[i];
            double u = Math.log(hz / centre);
            double step = STEP * z.abs();
            Complex[] p = new Complex[takes];
            Complex[][] d = new Complex[unknowns][takes];
            for (int k = 0; k < takes; k++) {
                p[k] = h(k, hz, z, 1, 1, 1);
                Complex byZ = h(k, hz, z.add(step), 1, 1, 1)
                        .subtract(h(k, hz, z.subtract(step), 1, 1, 1))
                        .divide(2 * step);
                d[0][k] = byZ;
                d[1][k] = byZ.multiply(Complex.I);
                d[2][k] = byZ.multiply(u);
                d[3][k] = byZ.multiply(Complex.I).multiply(u);
                for (int n = 0; n < deviations.size(); n++) {
                    Deviation by = deviations.get(n);
                    d[OWN + n][k] = by.response(k, hz, z, STEP)
                            .subtract(by.response(k, hz, z, -STEP))
                            .divide(2 * STEP);
                }
            }
            double weight = 2 * cell.route().snapshots() * spectrum.power[i] / spectrum.noise[i];
            addProjected(sum, p, d, weight);
        }
        return sum;
    }

    private static void addProjected(RealMatrix sum, Complex[] p, Complex[][] d, double weight) {
        double pp = 0;
        for (Complex v : p) {
            pp += v.getReal() * v.getReal() + v.getImaginary() * v.getImaginary();
        }
        Complex[] along = new Complex[d.length];
        for (int a = 0; a < d.length; a++) {
            along[a] = product(p, d[a]);
        }
        for (int a = 0; a < d.length; a++) {
            for (int b = 0; b < d.length; b++) {
                double real = product(d[a], d[b]).getReal()
                        - along[a].conjugate().multiply(along[b]).getReal() / pp;
                sum.addToEntry(a, b, weight * real);
            }
        }
    }

    /** aᴴb. */
    private static Complex product(Complex[] a, Complex[] b) {
        Complex sum = Complex.ZERO;
        for (int k = 0; k < a.length; k++) {
            sum = sum.add(a[k].conjugate().multiply(b[k]));
        }
        return sum;
    }
}
