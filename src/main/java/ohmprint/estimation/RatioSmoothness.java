package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;
import org.jspecify.annotations.Nullable;

/**
 * Whether the ratio of two takes is as smooth against frequency as two dividers in front of one sound are.
 *
 * <p>The ratio {@code ρ = D_k/D_l = (1 + Z·y_l)/(1 + Z·y_k)} changes little within a twelfth of an octave, also at a resonance. In
 * each such band {@code D_k = (a + b·x + c·x²)·D_l} is fitted with complex a, b and c, each bin weighted by
 * {@code 1/(σ_k² + |ρ|²·σ_l²)}; what is left over,
 * {@code Σ w·|D_k − ρ(x)·D_l|²}, has the χ² distribution for noise alone. A room that changed between the takes, a contact that
 * opened, a sound that only one of them contains leave more; a wrong load or another gain leaves none. Two takes are enough
 * for it.
 *
 * <p>In bands without six independent bins, or with less signal than {@value #LEAST_SNR} times the noise, nothing is found.
 */
public final class RatioSmoothness {
    private static final int BANDS_PER_OCTAVE = 12;
    private static final int TERMS = 3;
    private static final double LEAST_BINS = 6;
    /** Signal over noise of a band, as a power ratio. */
    private static final double LEAST_SNR = 10;

    private RatioSmoothness() {}

    /**
     * What one band leaves over.
     *
     * @param frequencyHz midband
     * @param left the residual against the noise
     * @param residual root mean square of what is left over beyond the noise, relative to take {@code k}; 0 where there is none
     */
    public record Band(double frequencyHz, ChiSquare left, double residual) {}

    /**
     * The ratio of take {@code k} to take {@code l}, band by band, ascending.
     *
     * @param obs what aligned takes contain
     * @param k one take
     * @param l the other
     * @param fromHz lowest midband, hertz
     * @param toHz highest midband, hertz
     */
    public static List<Band> of(BinObservations obs, int k, int l, double fromHz, double toHz) {
        FrequencyBands bands = FrequencyBands.within(BANDS_PER_OCTAVE, fromHz, toHz);
        List<Band> out = new ArrayList<>();
        for (int b = 0; b < bands.size(); b++) {
            int from = obs.firstAtOrAbove(bands.lowerEdge(b));
            int to = obs.firstAtOrAbove(bands.upperEdge(b));
            Band band = band(obs, k, l, from, to, bands.midband(b));
            if (band != null) {
                out.add(band);
            }
        }
        return out;
    }

    private static @Nullable Band band(BinObservations obs, int k, int l, int from, int to, double hz) {
        BinObservations.Pair sum = obs.pair(from, to, k, l);
        double freedom = 2 * (obs.averages() * sum.count() - TERMS);
        boolean heard = sum.own() > LEAST_SNR * sum.ownNoise() && sum.other() > LEAST_SNR * sum.otherNoise();
        if (freedom < 2 * (LEAST_BINS - TERMS) || !heard) {
            return null;
        }
        double gain = (sum.re() * sum.re() + sum.im() * sum.im()) / (sum.signal() * sum.signal());
        double middle = (obs.hz(from) + obs.hz(to - 1)) / 2;
        double half = Math.max((obs.hz(to - 1) - obs.hz(from)) / 2, Double.MIN_NORMAL);
        double[] powers = new double[2 * TERMS - 1];
        double[] re = new double[TERMS];
        double[] im = new double[TERMS];
        double squares = 0;
        for (int i = from; i < to; i++) {
            double weight = 1 / (obs.noise(i, k) + gain * obs.noise(i, l));
            double x = (obs.hz(i) - middle) / half;
            double power = weight;
            squares += weight * obs.re(i, k, k);
            for (int p = 0; p < powers.length; p++) {
                powers[p] += power * obs.re(i, l, l);
                if (p < TERMS) {
                    re[p] += power * obs.re(i, k, l);
                    im[p] += power * obs.im(i, k, l);
                }
                power *= x;
            }
        }
        double[][] normal = new double[TERMS][];
        Arrays.setAll(normal, p -> Arrays.copyOfRange(powers, p, p + TERMS));
        double residual;
        try {
            DecompositionSolver solver = new LUDecomposition(new Array2DRowRealMatrix(normal, false)).getSolver();
            RealVector real = new ArrayRealVector(re, false);
            RealVector imaginary = new ArrayRealVector(im, false);
            residual = squares - real.dotProduct(solver.solve(real)) - imaginary.dotProduct(solver.solve(imaginary));
        } catch (SingularMatrixException e) {
            return null;
        }
        double value = 2 * obs.averages() * Math.max(0, residual);
        double beyond = Math.max(0, value - freedom) / (2 * obs.averages() * squares);
        return new Band(hz, new ChiSquare(value, freedom), Math.sqrt(beyond));
    }
}
