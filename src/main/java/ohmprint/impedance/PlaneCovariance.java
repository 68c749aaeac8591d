package ohmprint.impedance;

/**
 * Covariance of the pair (R, X) in Ω², and its first-order propagation to modulus and phase.
 *
 * <p>With {@code |Z| = √(R²+X²)} and {@code φ = atan2(X, R)}:
 * {@code u²(|Z|) = (R²·var R + 2RX·cov + X²·var X)/|Z|²} and
 * {@code u²(φ) = (X²·var R − 2RX·cov + R²·var X)/|Z|⁴}. Source: JCGM 100:2008, 5.2.2 and H.2.
 *
 * @param varR variance of the resistance, Ω²
 * @param varX variance of the reactance, Ω²
 * @param covRX covariance of the two, Ω²
 */
public record PlaneCovariance(double varR, double varX, double covRX) {
    /** No uncertainty at all. */
    public static final PlaneCovariance ZERO = new PlaneCovariance(0, 0, 0);

    /** Equal, uncorrelated standard uncertainties {@code u} (Ω) of both parts: what circular complex noise gives. */
    public static PlaneCovariance circular(double u) {
        return new PlaneCovariance(u * u, u * u, 0);
    }

    /** The rank-one covariance of a single cause that moves R by {@code dR} and X by {@code dX} (Ω) per standard deviation. */
    public static PlaneCovariance ofCause(double dR, double dX) {
        return new PlaneCovariance(dR * dR, dX * dX, dR * dX);
    }

    /** Sum of two independent contributions. */
    public PlaneCovariance plus(PlaneCovariance o) {
        return new PlaneCovariance(varR + o.varR, varX + o.varX, covRX + o.covRX);
    }

    /** All entries multiplied by {@code factor} (a variance factor). */
    public PlaneCovariance times(double factor) {
        return new PlaneCovariance(factor * varR, factor * varX, factor * covRX);
    }

    /** Standard uncertainty in the direction of R and X in which it is largest, ohms: the root of the larger eigenvalue. */
    public double largestUncertainty() {
        double half = (varR + varX) / 2;
        return Math.sqrt(half + Math.hypot((varR - varX) / 2, covRX));
    }

    /** Standard uncertainty of |Z| in ohms at the point (r, x) in ohms. */
    public double modulusUncertainty(double r, double x) {
        double m = Math.hypot(r, x);
        if (m == 0) {
            return Math.sqrt(Math.max(varR, varX));
        }
        return Math.sqrt(Math.max(0, (r * r * varR + 2 * r * x * covRX + x * x * varX))) / m;
    }

    /** Standard uncertainty of the phase in radians at the point (r, x) in ohms; infinite at the origin. */
    public double phaseUncertainty(double r, double x) {
        double m2 = r * r + x * x;
        if (m2 == 0) {
            return Double.POSITIVE_INFINITY;
        }
        return Math.sqrt(Math.max(0, (x * x * varR - 2 * r * x * covRX + r * r * varX))) / m2;
    }

    /** That of (R, X) turned by an angle in radians. */
    PlaneCovariance turned(double angle) {
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        return new PlaneCovariance(
                c * c * varR - 2 * c * s * covRX + s * s * varX,
                s * s * varR + 2 * c * s * covRX + c * c * varX,
                c * s * (varR - varX) + (c * c - s * s) * covRX);
    }

    /** Correlation of the two parts; 0 where one of them is exact. */
    double correlation() {
        double product = Math.sqrt(varR * varX);
        return product > 0 ? Math.max(-1, Math.min(1, covRX / product)) : 0;
    }
}
