package ohmprint.impedance;

import ohmprint.uncertainty.CoverageFactor;

/**
 * From standard uncertainties of R and X to ones of which 1.96 give what a band states.
 *
 * <p>The stated 95 % uncertainties of |Z| and phase are k times the standard ones, with a k above 1.96 where these rest on few
 * observations (Student's t; JCGM 100:2008, G.3). What follows from R and X is calculated with 1.96, so that effects along Z and
 * across it are made larger by their k/1.96 first. A k below 1.96, where tolerances dominate, is that of the band as a whole and
 * does not hold for what is left in a difference: it counts as 1.96.
 *
 * @param cos R/|Z|
 * @param sin X/|Z|
 * @param along factor along Z, 1 or more
 * @param across factor across Z, 1 or more
 */
public record Widening(double cos, double sin, double along, double across) {
    /** Factors nearer to 1 are rounding. */
    private static final double LEAST = 1.001;

    private static final Widening NONE = new Widening(1, 0, 1, 1);

    /** That of a band; none where it does not hold R and X with their covariance, or where draws made what it states. */
    static Widening of(BandValue v) {
        PlaneCovariance c = v.covariance();
        double r = v.resistanceOhm();
        double x = v.reactanceOhm();
        double m = Math.hypot(r, x);
        if (c == null || v.byDraws() || !(m > 0)) {
            return NONE;
        }
        return new Widening(
                r / m,
                x / m,
                factor(v.magnitudeU95Ohm(), c.modulusUncertainty(r, x)),
                factor(v.phaseU95Rad(), c.phaseUncertainty(r, x)));
    }

    private static double factor(double stated, double standard) {
        double factor = stated / (CoverageFactor.NORMAL * standard);
        return factor > LEAST && Double.isFinite(factor) ? factor : 1;
    }

    /** A change of R by {@code dR} and of X by {@code dX}, made larger: the new dR and dX. */
    public double[] of(double dR, double dX) {
        double a = along * (cos * dR + sin * dX);
        double b = across * (cos * dX - sin * dR);
        return new double[] {cos * a - sin * b, sin * a + cos * b};
    }

    /** A covariance made larger likewise: that of the two changes of which it is made. */
    public PlaneCovariance of(PlaneCovariance c) {
        double[] r = of(1, 0);
        double[] x = of(0, 1);
        return new PlaneCovariance(
                r[0] * r[0] * c.varR() + 2 * r[0] * x[0] * c.covRX() + x[0] * x[0] * c.varX(),
                r[1] * r[1] * c.varR() + 2 * r[1] * x[1] * c.covRX() + x[1] * x[1] * c.varX(),
                r[0] * r[1] * c.varR() + (r[0] * x[1] + x[0] * r[1]) * c.covRX() + x[0] * x[1] * c.varX());
    }
}
