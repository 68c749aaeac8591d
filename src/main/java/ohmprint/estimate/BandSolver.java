package ohmprint.estimate;

import java.util.List;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealVector;
import org.jspecify.annotations.Nullable;

/**
 * Solves one band: a weighted linear start, then Gauss–Newton on the likelihood with the amplitudes eliminated.
 *
 * <p>Start: {@code 1/D_k = a + b·y_k}, Z = b/a, weighted by |D_k|⁴/σ_k². Multiplied by D_k·A it reads
 * {@code D_k·(1 + Z·y_k) = A}, whose weighted scatter over k is a quadratic form in Z and needs only S.
 */
final class BandSolver {
    private static final int MAX_STEPS = 25;
    private static final int MAX_HALVINGS = 12;
    private static final double CONVERGED = 1e-9;
    /** The same where every bin goes on from there by itself. */
    private static final double NEAR = 1e-4;
    /** Steps by which a bin moves from the Z of its neighbourhood to its own. */
    private static final int OWN_STEPS = 2;
    /** Longest such step, as a change of 1 + Z·y relative to itself. */
    private static final double LONGEST_STEP = 0.3;

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
        Polynomial best = maximum(from, to, hz, order, CONVERGED);
        return best == null ? null : result(best.at(), from, to, hz, best.re(), best.im());
    }

    /** The polynomial of greatest likelihood, and the normal equations there. */
    private record Polynomial(NormalEquations at, double[] re, double[] im) {}

    private @Nullable Polynomial maximum(int from, int to, double hz, int order, double enough) {
        int terms = order + 1;
        if (to - from < terms) {
            return null;
        }
        double[] re = new double[terms];
        double[] im = new double[terms];
        linearStart(from, to, re, im);
        NormalEquations now = normal(from, to, hz, re, im);
        for (int step = 0; step < MAX_STEPS; step++) {
            RealVector dRe = now.solve(now.gradientRe);
            RealVector dIm = now.solve(now.gradientIm);
            if (dRe == null || dIm == null) {
                return null;
            }
            if (Math.hypot(dRe.getEntry(0), dIm.getEntry(0)) <= enough * (1 + Math.hypot(re[0], im[0]))) {
                break;
            }
            double scale = 1;
            NormalEquations next = now;
            double[] nextRe = re;
            double[] nextIm = im;
            for (int half = 0; half < MAX_HALVINGS; half++, scale /= 2) {
                nextRe = moved(re, dRe, scale);
                nextIm = moved(im, dIm, scale);
                next = normal(from, to, hz, nextRe, nextIm);
                if (next.cost <= now.cost) {
                    break;
                }
            }
            if (!(next.cost <= now.cost)) {
                break;
            }
            double change = Math.hypot(scale * dRe.getEntry(0), scale * dIm.getEntry(0));
            re = nextRe;
            im = nextIm;
            now = next;
            if (change <= enough * (1 + Math.hypot(re[0], im[0]))) {
                break;
            }
        }
        return new Polynomial(now, re, im);
    }

    /**
     * What a fit of the bins {@code [from, to)} states if it ends at this impedance, the same in all of them.
     *
     * @return value, noise and sensitivities, or null when the bins hold too little to fit at all
     */
    @Nullable
    BandFit statedAt(int from, int to, double hz, double resistanceOhm, double reactanceOhm) {
        double[] re = {resistanceOhm};
        double[] im = {reactanceOhm};
        return result(normal(from, to, hz, re, im), from, to, hz, re, im);
    }

    /**
     * Adds what the bins {@code [from, to)} say about the nuisances, with a Z of its own in each bin: that of a straight fit
     * of all of them, then moved to what the bin itself prefers. Bins that cannot be fitted at all add nothing.
     *
     * @param hz frequency about which the straight fit is made
     */
    void addTo(SharedInformation sum, int from, int to, double hz) {
        Polynomial straight = maximum(from, to, hz, 1, NEAR);
        if (straight == null) {
            return;
        }
        for (int i = from; i < to; i++) {
            place(i, hz, straight.re(), straight.im());
            bin.evaluate(obs, i, point);
            for (int step = 0; step < OWN_STEPS; step++) {
                ownStep(i);
            }
            sum.add(bin, point);
        }
    }

    /** Adds what bin {@code i} says about the nuisances with Z at a given place, ohms. */
    void addAt(SharedInformation sum, int i, double resistanceOhm, double reactanceOhm) {
        point.frequency(obs.hz(i));
        point.impedance(resistanceOhm, reactanceOhm);
        bin.evaluate(obs, i, point);
        sum.add(bin, point);
    }

    /** One step of Newton's method on this bin alone, no longer than what the divider is straight over. */
    private void ownStep(int i) {
        double info = bin.information();
        if (!(info > 0)) {
            return;
        }
        double dRe = -bin.gradientRe() / info;
        double dIm = -bin.gradientIm() / info;
        double reach = 0;
        for (int k = 0; k < obs.takes(); k++) {
            reach = Math.max(reach, Math.hypot(point.yRe(k), point.yIm(k)) * Math.hypot(point.hRe(k), point.hIm(k)));
        }
        double length = Math.hypot(dRe, dIm) * reach;
        double scale = length > LONGEST_STEP ? LONGEST_STEP / length : 1;
        point.impedance(point.zRe() + scale * dRe, point.zIm() + scale * dIm);
        bin.evaluate(obs, i, point);
    }

    private @Nullable BandFit result(NormalEquations at, int from, int to, double hz, double[] re, double[] im) {
        RealVector unit = new ArrayRealVector(re.length);
        unit.setEntry(0, 1);
        RealVector first = at.solve(unit);
        if (first == null) {
            return null;
        }
        double[] sRe = new double[nuisances.size()];
        double[] sIm = new double[nuisances.size()];
        sensitivities(from, to, hz, re, im, first, sRe, sIm);
        int bins = 0;
        for (int i = from; i < to; i++) {
            bins += obs.count(i);
        }
        double freedom = obs.averages() * bins * (obs.takes() - 1.0) - re.length;
        return new BandFit(
                hz,
                re[0],
                im[0],
                first.getEntry(0) / (2 * obs.averages()),
                obs.averages() * at.cost,
                freedom,
                at.scoreScale(obs.averages()),
                at.scoreFreedom(),
                at.signalToNoise,
                bins,
                sRe,
                sIm);
    }

    private void sensitivities(
            int from, int to, double hz, double[] re, double[] im, RealVector row, double[] sRe, double[] sIm) {
        int takes = obs.takes();
        double[] eRe = new double[takes];
        double[] eIm = new double[takes];
        double[] pair = new double[2];
        for (int i = from; i < to; i++) {
            double u = place(i, hz, re, im);
            bin.evaluate(obs, i, point);
            point.loadInputEffects();
            double weight = 0;
            for (int j = re.length - 1; j >= 0; j--) {
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

    private NormalEquations normal(int from, int to, double hz, double[] re, double[] im) {
        int terms = re.length;
        NormalEquations sum = new NormalEquations(terms);
        double[] signal = new double[obs.takes()];
        double[] noise = new double[obs.takes()];
        for (int i = from; i < to; i++) {
            double u = place(i, hz, re, im);
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

    /** Puts the divider at bin {@code i} with Z from the polynomial; returns u = ln(f/f_m). */
    private double place(int i, double hz, double[] re, double[] im) {
        double u = Math.log(obs.hz(i) / hz);
        double zRe = 0;
        double zIm = 0;
        for (int j = re.length - 1; j >= 0; j--) {
            zRe = zRe * u + re[j];
            zIm = zIm * u + im[j];
        }
        point.frequency(obs.hz(i));
        point.impedance(zRe, zIm);
        return u;
    }

    /** Minimises Σ v_k·|D_k(1 + Z·y_k) − mean|², v_k = S_kk/σ_k², over one Z for all bins. */
    private void linearStart(int from, int to, double[] re, double[] im) {
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
        re[0] = -cRe / q;
        im[0] = -cIm / q;
    }

    private static double[] moved(double[] at, RealVector direction, double scale) {
        double[] out = at.clone();
        for (int j = 0; j < out.length; j++) {
            out[j] -= scale * direction.getEntry(j);
        }
        return out;
    }
}
