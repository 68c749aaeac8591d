package ohmprint.conformity;

import java.util.List;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import org.jspecify.annotations.Nullable;

/**
 * What the errors of |Z| of a curve have in common from band to band.
 *
 * <p>A shared cause moves |Z| of band b by {@code (R·dR + X·dX)/|Z|} per standard deviation, to first order; noise adds
 * {@code eᵀ·N·e} with {@code e = (R, X)/|Z|} (JCGM 100:2008, F.1.2.3 and 5.2.2). What a stated uncertainty holds beyond
 * these, and the uncertainty of limits, counts as the reading's own. Causes act to the same side in most bands, and for such
 * errors the greatest of them grows with what counts as independent (Slepian 1962, Bell Syst. Tech. J. 41, 463): the
 * cautious choice.
 *
 * <p>Between two midbands the shared parts are those of the straight line in ln|Z|, and the rest is the reading's own.
 */
final class CommonErrors {
    private final ImpedanceCurve curve;
    private final @Nullable CurveCovariance covariance;

    CommonErrors(ImpedanceCurve curve) {
        this.curve = curve;
        this.covariance = curve.covariance();
    }

    /** The share of each cause in the error of a reading against limits that may be uncertain themselves. */
    ErrorDecomposition of(Reading reading, Limits limits) {
        if (covariance == null || !reading.hasValue()) {
            return ErrorDecomposition.UNKNOWN;
        }
        double[] common = moves(reading.lowerBand());
        double own = noise(reading.lowerBand());
        boolean alone = limits.relativeUncertainty() > 0;
        if (reading.interpolated()) {
            double w = reading.share();
            double[] above = moves(reading.lowerBand() + 1);
            for (int k = 0; k < common.length; k++) {
                common[k] = reading.ohm()
                        * ((1 - w) * common[k] / ohm(reading.lowerBand())
                                + w * above[k] / ohm(reading.lowerBand() + 1));
            }
            own = 0;
            alone = true;
        }
        double variance = own;
        for (double move : common) {
            variance += move * move;
        }
        double stated = Math.hypot(reading.uOhm(), limits.relativeUncertainty() * reading.ohm());
        double u = Math.sqrt(Math.max(variance, stated * stated));
        if (!(u > 0) || !Double.isFinite(u)) {
            return ErrorDecomposition.UNKNOWN;
        }
        double left = 1;
        for (int k = 0; k < common.length; k++) {
            common[k] /= u;
            left -= common[k] * common[k];
        }
        return new ErrorDecomposition(common, Math.sqrt(Math.max(0, left)), alone ? -1 : reading.lowerBand());
    }

    /** How each shared cause moves |Z| of a band, ohms; at least one number, NaN where it is not known. */
    private double[] moves(int b) {
        BandValue v = curve.values().get(b);
        List<SharedCause> causes = covariance == null ? List.of() : covariance.causes();
        double[] out = new double[Math.max(1, causes.size())];
        for (int k = 0; k < causes.size(); k++) {
            out[k] = (v.resistanceOhm() * causes.get(k).resistanceOhm(b)
                            + v.reactanceOhm() * causes.get(k).reactanceOhm(b))
                    / v.magnitudeOhm();
        }
        return out;
    }

    /** Variance of |Z| of a band by its own noise, Ω²; NaN where it is not known. */
    private double noise(int b) {
        PlaneCovariance own = covariance == null ? null : covariance.noise(b);
        BandValue v = curve.values().get(b);
        return own == null ? Double.NaN : Math.pow(own.modulusUncertainty(v.resistanceOhm(), v.reactanceOhm()), 2);
    }

    private double ohm(int b) {
        return curve.values().get(b).magnitudeOhm();
    }

    /**
     * What the error of one reading, in units of its standard uncertainty, is made of: {@code Σ common_k·x_k + own·e}, with
     * independent standard normal variables x (one for each cause that all bands share) and e (of this reading alone). The
     * squares add up to one.
     *
     * @param common effect of each shared cause
     * @param own effect of what this reading does not share
     * @param ownBand band whose own error e is; readings of the same band have the same e. −1 for one that is met nowhere else
     */
    record ErrorDecomposition(double[] common, double own, int ownBand) {
        /** Nothing is known about how this error belongs together with others. */
        static final ErrorDecomposition UNKNOWN = new ErrorDecomposition(new double[0], 1, -1);

        boolean isKnown() {
            return common.length > 0;
        }

        /** Correlation with the error of another reading of the same curve, both being known. */
        double correlationWith(ErrorDecomposition other) {
            double sum = ownBand >= 0 && ownBand == other.ownBand ? own * other.own : 0;
            for (int k = 0; k < common.length; k++) {
                sum += common[k] * other.common[k];
            }
            return sum;
        }
    }
}
