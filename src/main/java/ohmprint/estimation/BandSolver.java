package ohmprint.estimation;

import java.util.ArrayList;
import java.util.List;
import ohmprint.estimation.Nuisance.PosteriorCauses;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/**
 * Solves one band: a weighted linear start, then Gauss–Newton on the likelihood with the amplitudes eliminated.
 *
 * <p>Start: {@code 1/D_k = a + b·y_k}, Z = b/a, weighted by |D_k|⁴/σ_k². Multiplied by D_k·A it reads
 * {@code D_k·(1 + Z·y_k) = A}, whose weighted scatter over k is a quadratic form in Z and needs only S.
 *
 * <p>The polynomial, the normal equations and the fit that comes out stand here too: each is a part of this one method.
 */
final class BandSolver {
    private static final int MAX_STEPS = 25;
    private static final int MAX_HALVINGS = 12;
    private static final double CONVERGED = 1e-9;
    /** The same where every bin goes on from there by itself. */
    private static final double NEAR = 1e-4;

    private final BinObservations obs;
    private final DividerPoint point;
    private final ProjectedBin bin;
    private final List<Nuisance> nuisances;

    BandSolver(BinObservations obs, LoadedTakes takes, List<Nuisance> nuisances) {
        this(obs, new DividerPoint(takes), takes, nuisances);
    }

    /**
     * A solver for takes that depart from what was entered.
     *
     * @param obs what the takes hold, with the departures of gain and delay taken out
     * @param point the dividers with the departures of loads and input
     * @param takes the takes as entered
     * @param nuisances what the estimate is to be sensitive to
     */
    BandSolver(BinObservations obs, DividerPoint point, LoadedTakes takes, List<Nuisance> nuisances) {
        this.obs = obs;
        this.point = point;
        this.bin = new ProjectedBin(takes.size());
        this.nuisances = nuisances;
    }

    /**
     * Fits the bins {@code [from, to)}.
     *
     * @param hz frequency f_m to which the value belongs
     * @param order degree of the polynomial in ln(f/f_m): 0, 1 or 2
     * @return the fit, or null when the bins hold too little to fit at all
     */
    @Nullable
    BandFit fit(int from, int to, double hz, int order) {
        Maximum best = maximum(from, to, hz, order, CONVERGED);
        return best == null ? null : result(best.at(), from, to, best.z());
    }

    /**
     * The straight line of Z that fits the bins {@code [from, to)}, to a fraction of what is fine enough for a result.
     *
     * @return null when the bins hold too little to fit at all
     */
    @Nullable
    Polynomial straight(int from, int to, double hz) {
        Maximum best = maximum(from, to, hz, 1, NEAR);
        return best == null ? null : best.z();
    }

    /** The same with the noise of its middle; null likewise. */
    @Nullable
    Line line(int from, int to, double hz) {
        Maximum best = maximum(from, to, hz, 1, NEAR);
        RealVector first = best == null ? null : best.at().solve(new ArrayRealVector(new double[] {1, 0}));
        return best == null || first == null
                ? null
                : new Line(best.z().re()[0], best.z().im()[0], first.getEntry(0) / (2 * obs.averages()));
    }

    /**
     * A straight Z at one frequency.
     *
     * @param resistanceOhm Re Z, ohms
     * @param reactanceOhm Im Z, ohms
     * @param noiseVariance variance of either part from noise alone, Ω², for the stated noise of the observations
     */
    record Line(double resistanceOhm, double reactanceOhm, double noiseVariance) {}

    /** The polynomial of greatest likelihood, and the normal equations there. */
    private record Maximum(NormalEquations at, Polynomial z) {}

    private @Nullable Maximum maximum(int from, int to, double hz, int order, double enough) {
        int terms = order + 1;
        if (to - from < terms) {
            return null;
        }
        Polynomial z = linearStart(from, to, hz, terms);
        NormalEquations now = normal(from, to, z);
        for (int step = 0; step < MAX_STEPS; step++) {
            RealVector dRe = now.solve(now.gradientRe);
            RealVector dIm = now.solve(now.gradientIm);
            if (dRe == null || dIm == null) {
                return null;
            }
            double length = Math.hypot(dRe.getEntry(0), dIm.getEntry(0));
            if (length <= enough * (1 + z.modulus())) {
                break;
            }
            double scale = 1;
            NormalEquations next = now;
            Polynomial nextZ = z;
            for (int half = 0; half < MAX_HALVINGS; half++, scale /= 2) {
                nextZ = z.less(dRe, dIm, scale);
                next = normal(from, to, nextZ);
                if (next.cost <= now.cost) {
                    break;
                }
            }
            if (!(next.cost <= now.cost)) {
                break;
            }
            z = nextZ;
            now = next;
            if (scale * length <= enough * (1 + z.modulus())) {
                break;
            }
        }
        return new Maximum(now, z);
    }

    /**
     * What a straight Z leaves over in a band.
     *
     * @param fit the fit
     * @param signal what to divide its residual by for the share of the signal power: snapshots × takes × signal over noise
     */
    record Leftover(BandFit fit, double signal) {}

    /** What a straight Z leaves over in each band that has three bins or more and sound in all takes. */
    static List<Leftover> leftover(BinObservations bins, LoadedTakes takes, FrequencyBands bands) {
        BandSolver solver = new BandSolver(bins, takes, List.of());
        List<Leftover> out = new ArrayList<>();
        for (int b = 0; b < bands.size(); b++) {
            int from = bins.firstAtOrAbove(bands.lowerEdge(b));
            int to = bins.firstAtOrAbove(bands.upperEdge(b));
            BandFit fit = to - from < 3 ? null : solver.fit(from, to, bands.midband(b), 1);
            if (fit != null && Double.isFinite(fit.residual()) && fit.signalToNoise() > 0) {
                out.add(new Leftover(fit, bins.averages() * fit.bins() * fit.signalToNoise() * takes.size()));
            }
        }
        return out;
    }

    /**
     * What a fit of the bins {@code [from, to)} states if it ends at this impedance, the same in all of them.
     *
     * @return value, noise and sensitivities, or null when the bins hold too little to fit at all
     */
    @Nullable
    BandFit statedAt(int from, int to, double hz, double resistanceOhm, double reactanceOhm) {
        Polynomial z = new Polynomial(hz, new double[] {resistanceOhm}, new double[] {reactanceOhm});
        return result(normal(from, to, z), from, to, z);
    }

    private @Nullable BandFit result(NormalEquations at, int from, int to, Polynomial z) {
        RealVector unit = new ArrayRealVector(z.terms());
        unit.setEntry(0, 1);
        RealVector first = at.solve(unit);
        if (first == null) {
            return null;
        }
        double[] sRe = new double[nuisances.size()];
        double[] sIm = new double[nuisances.size()];
        sensitivities(from, to, z, first, sRe, sIm);
        int bins = 0;
        for (int i = from; i < to; i++) {
            bins += obs.count(i);
        }
        double freedom = obs.averages() * bins * (obs.takes() - 1.0) - z.terms();
        return new BandFit(
                z.hz(),
                z.re()[0],
                z.im()[0],
                first.getEntry(0) / (2 * obs.averages()),
                obs.averages() * at.cost,
                freedom,
                at.scoreScale(obs.averages()),
                at.scoreFreedom(obs.averages()),
                at.signalToNoise,
                from,
                to,
                bins,
                sRe,
                sIm);
    }

    private void sensitivities(int from, int to, Polynomial z, RealVector row, double[] sRe, double[] sIm) {
        int takes = obs.takes();
        double[] eRe = new double[takes];
        double[] eIm = new double[takes];
        double[] pair = new double[2];
        for (int i = from; i < to; i++) {
            double u = z.place(point, obs.hz(i));
            bin.evaluate(obs, i, point);
            point.loadInputEffects();
            double weight = 0;
            for (int j = z.terms() - 1; j >= 0; j--) {
                weight = weight * u + row.getEntry(j);
            }
            for (int n = 0; n < nuisances.size(); n++) {
                for (int k = 0; k < takes; k++) {
                    nuisances.get(n).effect(k, point, pair);
                    eRe[k] = pair[0];
                    eIm[k] = pair[1];
                }
                bin.response(eRe, eIm, pair);
                sRe[n] += weight * pair[0];
                sIm[n] += weight * pair[1];
            }
        }
    }

    private NormalEquations normal(int from, int to, Polynomial z) {
        int terms = z.terms();
        NormalEquations sum = new NormalEquations(terms);
        double[] signal = new double[obs.takes()];
        double[] noise = new double[obs.takes()];
        for (int i = from; i < to; i++) {
            double u = z.place(point, obs.hz(i));
            bin.evaluate(obs, i, point);
            sum.cost += bin.cost();
            double info = bin.information();
            double gRe = bin.gradientRe();
            double gIm = bin.gradientIm();
            sum.score += gRe * gRe + gIm * gIm;
            sum.informationTotal += info;
            sum.informationSquare += info * info;
            double ui = 1;
            for (int a = 0; a < terms; a++, ui *= u) {
                sum.gradientRe.addToEntry(a, gRe * ui);
                sum.gradientIm.addToEntry(a, gIm * ui);
                double uj = ui;
                for (int b = 0; b < terms; b++, uj *= u) {
                    sum.information.addToEntry(a, b, info * uj);
                }
            }
            double power = bin.signalPower();
            for (int k = 0; k < signal.length; k++) {
                signal[k] += power * (point.hRe(k) * point.hRe(k) + point.hIm(k) * point.hIm(k));
                noise[k] += obs.count(i) * obs.noise(i, k);
            }
        }
        sum.signalToNoise = Double.POSITIVE_INFINITY;
        for (int k = 0; k < signal.length; k++) {
            sum.signalToNoise = Math.min(sum.signalToNoise, signal[k] / noise[k]);
        }
        return sum;
    }

    /** Minimises Σ v_k·|D_k(1 + Z·y_k) − mean|², v_k = S_kk/σ_k², over one Z for all bins. */
    private Polynomial linearStart(int from, int to, double hz, int terms) {
        int takes = obs.takes();
        double cRe = 0;
        double cIm = 0;
        double q = 0;
        for (int i = from; i < to; i++) {
            point.frequency(obs.hz(i));
            double total = 0;
            for (int k = 0; k < takes; k++) {
                total += obs.re(i, k, k) / obs.noise(i, k);
            }
            for (int k = 0; k < takes; k++) {
                double vk = obs.re(i, k, k) / obs.noise(i, k);
                for (int l = 0; l < takes; l++) {
                    double vl = obs.re(i, l, l) / obs.noise(i, l);
                    double weight = ((k == l ? vk : 0) - vk * vl / total);
                    double s = obs.re(i, l, k);
                    double t = obs.im(i, l, k);
                    double ykRe = point.yRe(k);
                    double ykIm = point.yIm(k);
                    cRe += weight * (ykRe * s + ykIm * t);
                    cIm += weight * (ykRe * t - ykIm * s);
                    double yyRe = ykRe * point.yRe(l) + ykIm * point.yIm(l);
                    double yyIm = ykRe * point.yIm(l) - ykIm * point.yRe(l);
                    q += weight * (yyRe * s - yyIm * t);
                }
            }
        }
        double[] re = new double[terms];
        double[] im = new double[terms];
        re[0] = -cRe / q;
        im[0] = -cIm / q;
        return new Polynomial(hz, re, im);
    }

    /** Normal equations of one Gauss–Newton step: the information is real because h is analytic in Z. */
    private static final class NormalEquations {
        final Array2DRowRealMatrix information;
        final RealVector gradientRe;
        final RealVector gradientIm;
        double cost;
        double signalToNoise;
        double score;
        double informationTotal;
        double informationSquare;

        NormalEquations(int terms) {
            information = new Array2DRowRealMatrix(terms, terms);
            gradientRe = new ArrayRealVector(terms);
            gradientIm = new ArrayRealVector(terms);
        }

        /**
         * Observed over stated noise variance by the scores of the bins: {@code max(1, n)·Σ|∂C/∂Z*|²/ΣF·ν/(ν − p)}, p the terms
         * that the fit has set to zero and ν as in {@link #scoreFreedom}. The score of a bin has the variance F/n if the bin is the
         * mean of n ≥ 1 snapshots; where n < 1 stands for bins that are correlated, that of each is F all the same.
         *
         * @param averages n, independent complex snapshots per bin
         */
        double scoreScale(double averages) {
            double independent = independent(averages);
            return Math.max(1, averages)
                    * score
                    / informationTotal
                    * independent
                    / Math.max(0.5, independent - gradientRe.getDimension());
        }

        /**
         * Complex degrees of freedom of the scores: {@code ν − p}, {@code ν = min(1, n)·(ΣF)²/ΣF²} the effective number of
         * independent bins.
         *
         * @param averages n, independent complex snapshots per bin
         */
        double scoreFreedom(double averages) {
            return Math.max(0, independent(averages) - gradientRe.getDimension());
        }

        private double independent(double averages) {
            return Math.min(1, averages) * informationTotal * informationTotal / informationSquare;
        }

        @Nullable
        RealVector solve(RealVector right) {
            DecompositionSolver solver = new QRDecomposition(information, 1e-300).getSolver();
            if (!solver.isNonSingular()) {
                return null;
            }
            RealVector x = solver.solve(right);
            return x.isNaN() || x.isInfinite() ? null : x;
        }
    }

    /**
     * Z over a band, {@code Z(f) = Σ_j z_j·u^j} with {@code u = ln(f/f_m)}, in ohms.
     *
     * @param hz frequency f_m to which the first coefficient belongs, hertz
     * @param re real parts of z_0, z_1 …, ohms
     * @param im imaginary parts, ohms
     */
    record Polynomial(double hz, double[] re, double[] im) {
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
        Polynomial less(RealVector otherRe, RealVector otherIm, double scale) {
            double[] newRe = new double[re.length];
            double[] newIm = new double[im.length];
            for (int j = 0; j < re.length; j++) {
                newRe[j] = re[j] - scale * otherRe.getEntry(j);
                newIm[j] = im[j] - scale * otherIm.getEntry(j);
            }
            return new Polynomial(hz, newRe, newIm);
        }
    }

    /**
     * Maximum-likelihood fit of one band.
     *
     * @param frequencyHz frequency f_m to which the value belongs, hertz
     * @param resistanceOhm Re Z(f_m), ohms
     * @param reactanceOhm Im Z(f_m), ohms
     * @param noiseVariance variance of either part from noise alone, Ω², for the stated noise of the observations
     * @param residual what the model leaves, in units of the stated noise: sum over snapshots
     * @param degreesOfFreedom complex degrees of freedom of the residual; its expectation if the noise is stated right
     * @param scoreScale observed over stated noise variance as the scores of the bins show it, weighted as the estimate is
     * @param scoreFreedom complex degrees of freedom of that
     * @param signalToNoise power ratio of signal and noise of the weakest take in the band
     * @param from first of the cells used
     * @param to one more than the last of them
     * @param bins number of bins used, each cell counting as those it was summed from
     * @param sensitivityRe response of R in ohms to one standard uncertainty of each shared nuisance
     * @param sensitivityIm response of X in ohms
     */
    record BandFit(
            double frequencyHz,
            double resistanceOhm,
            double reactanceOhm,
            double noiseVariance,
            double residual,
            double degreesOfFreedom,
            double scoreScale,
            double scoreFreedom,
            double signalToNoise,
            int from,
            int to,
            int bins,
            double[] sensitivityRe,
            double[] sensitivityIm) {
        /** The same with the sensitivities to other causes. */
        BandFit withCauses(PosteriorCauses causes) {
            return with(noiseVariance, causes.of(sensitivityRe), causes.of(sensitivityIm));
        }

        /** The same with an error of some size, in ohms, that is as good as noise in either part. */
        BandFit withDoubt(double ohm) {
            return with(noiseVariance + ohm * ohm, sensitivityRe, sensitivityIm);
        }

        private BandFit with(double variance, double[] sRe, double[] sIm) {
            return new BandFit(
                    frequencyHz,
                    resistanceOhm,
                    reactanceOhm,
                    variance,
                    residual,
                    degreesOfFreedom,
                    scoreScale,
                    scoreFreedom,
                    signalToNoise,
                    from,
                    to,
                    bins,
                    sRe,
                    sIm);
        }
    }
}
