package ohmprint.impedance;

/**
 * Covariance of the pair (R, X) of one band a with that of another band b, in Ω².
 *
 * @param rr cov(R_a, R_b)
 * @param rx cov(R_a, X_b)
 * @param xr cov(X_a, R_b)
 * @param xx cov(X_a, X_b)
 */
public record CrossCovariance(double rr, double rx, double xr, double xx) {
    /** What one shared cause adds that moves band a by (ra, xa) and band b by (rb, xb) ohms per standard deviation. */
    CrossCovariance plusCause(double ra, double xa, double rb, double xb) {
        return new CrossCovariance(rr + ra * rb, rx + ra * xb, xr + xa * rb, xx + xa * xb);
    }

    /** Sum with the covariance of a band with itself. */
    CrossCovariance plus(PlaneCovariance own) {
        return new CrossCovariance(rr + own.varR(), rx + own.covRX(), xr + own.covRX(), xx + own.varX());
    }

    /**
     * Covariance of two linear forms: {@code (pa, qa)·C·(pb, qb)ᵀ}, the first for (R_a, X_a), the second for (R_b, X_b).
     * Source: JCGM 102:2011, 6.2.1.
     */
    public double of(double pa, double qa, double pb, double qb) {
        return pa * (rr * pb + rx * qb) + qa * (xr * pb + xx * qb);
    }
}
