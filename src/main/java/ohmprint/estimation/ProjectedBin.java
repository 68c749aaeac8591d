package ohmprint.estimation;

/**
 * One bin's share of the likelihood with its amplitude A eliminated (variable projection). A reused workspace.
 *
 * <p>With {@code p = W^½h}, {@code g = ∂p/∂Z = −W^½·y·h²} and {@code T = W^½SW^½}, W = diag(1/σ_k²):
 * cost {@code C = tr T − pᴴTp/pᴴp}, gradient {@code ∂C/∂Z* = −[(gᴴTp)(pᴴp) − (pᴴTp)(gᴴp)]/(pᴴp)²}, signal power
 * {@code |A|² = (pᴴTp/pᴴp − m)/pᴴp}, m the number of bins summed, and Fisher information {@code |A|²·(gᴴg − |gᴴp|²/pᴴp)}, whose inverse is the
 * Cramér–Rao bound of E|δZ|².
 */
final class ProjectedBin {
    private final int takes;
    private final double[] w;
    private final double[] pRe;
    private final double[] pIm;
    private final double[] gRe;
    private final double[] gIm;
    private final double[] tpRe;
    private final double[] tpIm;
    private final double[] tRe;
    private final double[] tIm;
    private final double[] crossRe;
    private final double[] crossIm;
    private double pp;
    private double gpRe;
    private double gpIm;
    private double gg;
    private double quadratic;
    private double gspRe;
    private double gspIm;
    private double trace;
    private int count;

    ProjectedBin(int takes) {
        this.takes = takes;
        w = new double[takes];
        pRe = new double[takes];
        pIm = new double[takes];
        gRe = new double[takes];
        gIm = new double[takes];
        tpRe = new double[takes];
        tpIm = new double[takes];
        tRe = new double[takes * takes];
        tIm = new double[takes * takes];
        crossRe = new double[takes];
        crossIm = new double[takes];
    }

    /** Evaluates bin {@code i} at the divider state of {@code at}. */
    void evaluate(BinObservations obs, int i, DividerPoint at) {
        pp = 0;
        gpRe = 0;
        gpIm = 0;
        gg = 0;
        trace = 0;
        count = obs.count(i);
        for (int k = 0; k < takes; k++) {
            double noise = obs.noise(i, k);
            w[k] = 1 / Math.sqrt(noise);
            double a = at.hRe(k);
            double b = at.hIm(k);
            pRe[k] = w[k] * a;
            pIm[k] = w[k] * b;
            double h2Re = a * a - b * b;
            double h2Im = 2 * a * b;
            gRe[k] = -w[k] * (at.yRe(k) * h2Re - at.yIm(k) * h2Im);
            gIm[k] = -w[k] * (at.yRe(k) * h2Im + at.yIm(k) * h2Re);
            pp += pRe[k] * pRe[k] + pIm[k] * pIm[k];
            gg += gRe[k] * gRe[k] + gIm[k] * gIm[k];
            gpRe += gRe[k] * pRe[k] + gIm[k] * pIm[k];
            gpIm += gRe[k] * pIm[k] - gIm[k] * pRe[k];
            trace += obs.re(i, k, k) / noise;
        }
        quadratic = 0;
        gspRe = 0;
        gspIm = 0;
        for (int k = 0; k < takes; k++) {
            double sRe = 0;
            double sIm = 0;
            for (int l = 0; l < takes; l++) {
                double r = obs.re(i, k, l) * w[k] * w[l];
                double m = obs.im(i, k, l) * w[k] * w[l];
                tRe[k * takes + l] = r;
                tIm[k * takes + l] = m;
                sRe += r * pRe[l] - m * pIm[l];
                sIm += r * pIm[l] + m * pRe[l];
            }
            tpRe[k] = sRe;
            tpIm[k] = sIm;
            quadratic += pRe[k] * sRe + pIm[k] * sIm;
            gspRe += gRe[k] * sRe + gIm[k] * sIm;
            gspIm += gRe[k] * sIm - gIm[k] * sRe;
        }
    }

    /** What the model leaves unexplained, in units of the noise variance; m·(K − 1) is expected. */
    double cost() {
        return trace - quadratic / pp;
    }

    double gradientRe() {
        return -(gspRe * pp - quadratic * gpRe) / (pp * pp);
    }

    double gradientIm() {
        return -(gspIm * pp - quadratic * gpIm) / (pp * pp);
    }

    /** |A|² with the noise taken off, never negative. */
    double signalPower() {
        return Math.max(0, (quadratic / pp - count) / pp);
    }

    /** |A|² with the noise taken off, which may come out negative. */
    double rawSignalPower() {
        return (quadratic / pp - count) / pp;
    }

    /** Number of bins that this one was summed from. */
    int count() {
        return count;
    }

    double pRe(int k) {
        return pRe[k];
    }

    double pIm(int k) {
        return pIm[k];
    }

    /** Real part of (T·p)_k. */
    double tpRe(int k) {
        return tpRe[k];
    }

    /** Imaginary part of (T·p)_k. */
    double tpIm(int k) {
        return tpIm[k];
    }

    /** pᴴp. */
    double modelPower() {
        return pp;
    }

    /**
     * The part of a vector that is orthogonal to p and g, found by taking off first p, then what of g is orthogonal to p.
     *
     * @param xRe real parts of vectors, K entries from {@code at}
     * @param xIm imaginary parts
     * @param outRe receives the real parts at the same place
     * @param outIm receives the imaginary parts
     */
    void project(double[] xRe, double[] xIm, double[] outRe, double[] outIm, int at) {
        double aRe = 0;
        double aIm = 0;
        double bRe = 0;
        double bIm = 0;
        for (int k = 0; k < takes; k++) {
            double r = xRe[at + k];
            double m = xIm[at + k];
            aRe += pRe[k] * r + pIm[k] * m;
            aIm += pRe[k] * m - pIm[k] * r;
            bRe += gRe[k] * r + gIm[k] * m;
            bIm += gRe[k] * m - gIm[k] * r;
        }
        aRe /= pp;
        aIm /= pp;
        // g⊥ = g − p·(pᴴg)/pp, pᴴg the conjugate of gᴴp; g⊥ᴴx = gᴴx − (gᴴp)(pᴴx)/pp
        double rest = gg - (gpRe * gpRe + gpIm * gpIm) / pp;
        double cRe = (bRe - (gpRe * aRe - gpIm * aIm)) / rest;
        double cIm = (bIm - (gpRe * aIm + gpIm * aRe)) / rest;
        for (int k = 0; k < takes; k++) {
            double oRe = gRe[k] - (pRe[k] * gpRe + pIm[k] * gpIm) / pp;
            double oIm = gIm[k] - (pIm[k] * gpRe - pRe[k] * gpIm) / pp;
            outRe[at + k] = xRe[at + k] - (pRe[k] * aRe - pIm[k] * aIm) - (oRe * cRe - oIm * cIm);
            outIm[at + k] = xIm[at + k] - (pRe[k] * aIm + pIm[k] * aRe) - (oRe * cIm + oIm * cRe);
        }
    }

    /** |Q·T·p|²/(pᴴp)²: what even a free Z leaves, weighted by the signal; |A|²·(K − 2) is expected. */
    double projectedCross() {
        project(tpRe, tpIm, crossRe, crossIm, 0);
        double sum = 0;
        for (int k = 0; k < takes; k++) {
            sum += crossRe[k] * crossRe[k] + crossIm[k] * crossIm[k];
        }
        return sum / (pp * pp);
    }

    /** tr(Q·T): what even a free Z leaves, in units of the noise variance; m·(K − 2) is expected. */
    double leftOver() {
        double rest = gg - (gpRe * gpRe + gpIm * gpIm) / pp;
        double along = 0;
        for (int k = 0; k < takes; k++) {
            for (int l = 0; l < takes; l++) {
                double kRe = gRe[k] - (pRe[k] * gpRe + pIm[k] * gpIm) / pp;
                double kIm = gIm[k] - (pIm[k] * gpRe - pRe[k] * gpIm) / pp;
                double lRe = gRe[l] - (pRe[l] * gpRe + pIm[l] * gpIm) / pp;
                double lIm = gIm[l] - (pIm[l] * gpRe - pRe[l] * gpIm) / pp;
                double re = kRe * lRe + kIm * lIm;
                double im = kRe * lIm - kIm * lRe;
                along += re * tRe[k * takes + l] - im * tIm[k * takes + l];
            }
        }
        return trace - quadratic / pp - along / rest;
    }

    double information() {
        return signalPower() * (gg - (gpRe * gpRe + gpIm * gpIm) / pp);
    }

    /**
     * Right-hand side of the normal equation for a relative perturbation ε of the takes:
     * {@code |A|²·[gᴴ(ε∘p) − (gᴴp)(pᴴ(ε∘p))/pᴴp]}.
     *
     * @param eRe real parts of ε, one per take
     * @param eIm imaginary parts
     * @param out receives real and imaginary part
     */
    void response(double[] eRe, double[] eIm, double[] out) {
        double aRe = 0;
        double aIm = 0;
        double bRe = 0;
        double bIm = 0;
        for (int k = 0; k < takes; k++) {
            double xRe = eRe[k] * pRe[k] - eIm[k] * pIm[k];
            double xIm = eRe[k] * pIm[k] + eIm[k] * pRe[k];
            aRe += gRe[k] * xRe + gIm[k] * xIm;
            aIm += gRe[k] * xIm - gIm[k] * xRe;
            bRe += pRe[k] * xRe + pIm[k] * xIm;
            bIm += pRe[k] * xIm - pIm[k] * xRe;
        }
        double power = signalPower();
        out[0] = power * (aRe - (gpRe * bRe - gpIm * bIm) / pp);
        out[1] = power * (aIm - (gpRe * bIm + gpIm * bRe) / pp);
    }
}
