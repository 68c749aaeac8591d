package ohmprint.estimate;

import java.util.List;
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
}
