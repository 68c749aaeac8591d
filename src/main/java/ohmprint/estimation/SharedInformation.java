package ohmprint.estimation;

import java.util.List;
import ohmprint.estimation.BandSolver.Polynomial;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * What bins say about the nuisances when Z and A are free in every bin: sums of a score and of its information.
 *
 * <p>A relative change {@code ε_n} of the takes moves what they hold by {@code A·ε_n∘p}; what free A and Z cannot follow of it
 * lies in the space orthogonal to p and g = ∂p/∂Z, onto which Q projects. Per bin, in units of the noise,
 *
 * <pre>
 * score        s_n  = Re[(ε_n∘p)ᴴ·Q·T·p]/pᴴp
 * information  M_nm = |A|²·Re[(ε_n∘p)ᴴ·Q·(ε_m∘p)]
 * left over    tr(Q·T), of which m·(K − 2) is noise, m the number of bins summed
 * </pre>
 *
 * <p>Two takes leave Q = 0: they say nothing about the nuisances. As Z may be another in each bin, no curvature of Z is taken
 * for a nuisance. A reused workspace.
 */
final class SharedInformation {
    private final int takes;
    private final List<Nuisance> nuisances;
    private final double[] eRe;
    private final double[] eIm;
    private final double[] qRe;
    private final double[] qIm;
    private final double[] pair = new double[2];

    /** Score of each nuisance. */
    final double[] score;
    /** Information, symmetric. */
    final double[][] information;
    /** What is left over once Z and A are fitted, in units of the stated noise. */
    double residual;
    /** Complex degrees of freedom of that. */
    double freedom;
    /** The same residual with every bin weighing as its signal does. */
    double weightedResidual;
    /** Its expectation. */
    double weightedFreedom;

    SharedInformation(int takes, List<Nuisance> nuisances) {
        this.takes = takes;
        this.nuisances = nuisances;
        int n = nuisances.size();
        eRe = new double[n * takes];
        eIm = new double[n * takes];
        qRe = new double[n * takes];
        qIm = new double[n * takes];
        score = new double[n];
        information = new double[n][n];
    }

    /** Adds a bin that was evaluated at the divider state of {@code point}. */
    void add(ProjectedBin bin, DividerPoint point) {
        point.loadInputEffects();
        int n = nuisances.size();
        for (int a = 0; a < n; a++) {
            Nuisance one = nuisances.get(a);
            for (int k = 0; k < takes; k++) {
                one.effect(k, point, pair);
                eRe[a * takes + k] = pair[0] * bin.pRe(k) - pair[1] * bin.pIm(k);
                eIm[a * takes + k] = pair[0] * bin.pIm(k) + pair[1] * bin.pRe(k);
            }
            bin.project(eRe, eIm, qRe, qIm, a * takes);
        }
        double power = bin.rawSignalPower();
        for (int a = 0; a < n; a++) {
            double s = 0;
            for (int k = 0; k < takes; k++) {
                s += qRe[a * takes + k] * bin.tpRe(k) + qIm[a * takes + k] * bin.tpIm(k);
            }
            score[a] += s / bin.modelPower();
            for (int b = 0; b <= a; b++) {
                double m = 0;
                for (int k = 0; k < takes; k++) {
                    m += qRe[a * takes + k] * eRe[b * takes + k] + qIm[a * takes + k] * eIm[b * takes + k];
                }
                information[a][b] += power * m;
            }
        }
        residual += bin.leftOver();
        freedom += bin.count() * (takes - 2.0);
        weightedResidual += bin.projectedCross();
        weightedFreedom += power * (takes - 2.0);
    }

    /** Adds what other bins gave. */
    void add(SharedInformation other) {
        for (int a = 0; a < score.length; a++) {
            score[a] += other.score[a];
            for (int b = 0; b <= a; b++) {
                information[a][b] += other.information[a][b];
            }
        }
        residual += other.residual;
        freedom += other.freedom;
        weightedResidual += other.weightedResidual;
        weightedFreedom += other.weightedFreedom;
    }

    /** {@code 1 + factor·M}: the precision of the nuisances, in units of what was believed. */
    RealMatrix precision(double factor) {
        int n = score.length;
        RealMatrix out = new Array2DRowRealMatrix(n, n);
        for (int a = 0; a < n; a++) {
            for (int b = 0; b <= a; b++) {
                double v = factor * information[a][b];
                out.setEntry(a, b, v);
                out.setEntry(b, a, v);
            }
            out.addToEntry(a, a, 1);
        }
        return out;
    }

    /**
     * A Z of its own in every bin, for what the bins of all bands say together about the errors they share: such an error must
     * not pass for a bend of Z within a band.
     */
    static final class PerBinFit {
        /** Steps by which a bin moves from the Z of its neighbourhood to its own. */
        private static final int STEPS = 2;
        /** Longest such step, as a change of 1 + Z·y relative to itself. */
        private static final double LONGEST_STEP = 0.3;

        private final BinObservations obs;
        private final DividerPoint point;
        private final ProjectedBin bin;
        private final BandSolver neighbourhood;

        /**
         * A fit of takes that may depart from what was entered.
         *
         * @param obs what the takes hold, with the departures of gain and delay taken out
         * @param point the dividers with the departures of loads and input
         * @param takes the takes as entered
         */
        PerBinFit(BinObservations obs, DividerPoint point, LoadedTakes takes) {
            this.obs = obs;
            this.point = point;
            this.bin = new ProjectedBin(takes.size());
            this.neighbourhood = new BandSolver(obs, point, takes, List.of());
        }

        /**
         * Adds what the bins {@code [from, to)} say about the nuisances, with a Z of its own in each bin: that of a straight fit
         * of all of them, then moved to what the bin itself prefers. Bins that cannot be fitted at all add nothing.
         *
         * @param hz frequency about which the straight fit is made
         */
        void addTo(SharedInformation sum, int from, int to, double hz) {
            Polynomial straight = neighbourhood.straight(from, to, hz);
            if (straight == null) {
                return;
            }
            for (int i = from; i < to; i++) {
                straight.place(point, obs.hz(i));
                bin.evaluate(obs, i, point);
                for (int step = 0; step < STEPS; step++) {
                    step(i);
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
        private void step(int i) {
            double info = bin.information();
            if (!(info > 0)) {
                return;
            }
            double dRe = -bin.gradientRe() / info;
            double dIm = -bin.gradientIm() / info;
            double reach = 0;
            for (int k = 0; k < obs.takes(); k++) {
                reach = Math.max(
                        reach, Math.hypot(point.yRe(k), point.yIm(k)) * Math.hypot(point.hRe(k), point.hIm(k)));
            }
            double length = Math.hypot(dRe, dIm) * reach;
            double scale = length > LONGEST_STEP ? LONGEST_STEP / length : 1;
            point.impedance(point.zRe() + scale * dRe, point.zIm() + scale * dIm);
            bin.evaluate(obs, i, point);
        }
    }
}
