package ohmprint.impedance;

import java.util.Objects;
import ohmprint.uncertainty.CoverageFactor;
import org.jspecify.annotations.Nullable;

/**
 * What is stated for one band, at its exact midband frequency. Fields that the evidence does not determine are NaN.
 *
 * @param frequencyHz midband in hertz
 * @param status kind of statement
 * @param resistanceOhm R = Re Z in ohms; may be negative, never clipped
 * @param reactanceOhm X = Im Z in ohms; NaN where its sign is not determined (power route)
 * @param magnitudeOhm |Z| in ohms
 * @param phaseRad phase of Z in radians; NaN where the sign is not determined
 * @param magnitudeU95Ohm 95 % expanded uncertainty of |Z| in ohms
 * @param phaseU95Rad 95 % expanded uncertainty of the phase in radians
 * @param magnitudeLowOhm lower bound of |Z| for {@link BandStatus#INTERVAL}, else NaN
 * @param magnitudeHighOhm upper bound of |Z| for {@link BandStatus#INTERVAL}, else NaN; infinite where there is none, which files
 *     leave empty: NaN beside a lower bound is taken for that
 * @param snrDb signal-to-noise ratio of the weakest take in this band, dB; NaN if unknown
 * @param covariance covariance of (R, X) in Ω²; null where X is not determined
 * @param budget standard uncertainty of |Z| by origin; null unless measured
 * @param byDraws whether the expanded uncertainties come from random draws, because |Z| is too small against its uncertainty
 *     for first-order propagation
 * @param outline what is known of R and |Z| together where the sign of X is not determined; null elsewhere, and in curves
 *     that do not hold it
 */
public record BandValue(
        double frequencyHz,
        BandStatus status,
        double resistanceOhm,
        double reactanceOhm,
        double magnitudeOhm,
        double phaseRad,
        double magnitudeU95Ohm,
        double phaseU95Rad,
        double magnitudeLowOhm,
        double magnitudeHighOhm,
        double snrDb,
        @Nullable PlaneCovariance covariance,
        @Nullable BandBudget budget,
        boolean byDraws,
        @Nullable ImpedanceOutline outline) {

    public BandValue {
        if (status == BandStatus.INTERVAL && Double.isNaN(magnitudeHighOhm)) {
            magnitudeHighOhm = Double.POSITIVE_INFINITY;
        }
    }

    /** A complex value with expanded uncertainties of modulus (Ω) and phase (rad). */
    public static BandValue complex(
            double frequencyHz,
            double r,
            double x,
            PlaneCovariance covariance,
            double magnitudeU95Ohm,
            double phaseU95Rad,
            double snrDb,
            BandBudget budget) {
        return new BandValue(
                frequencyHz,
                BandStatus.MEASURED,
                r,
                x,
                Math.hypot(r, x),
                Math.atan2(x, r),
                magnitudeU95Ohm,
                phaseU95Rad,
                Double.NaN,
                Double.NaN,
                snrDb,
                covariance,
                budget,
                false,
                null);
    }

    /** |Z| and R in ohms where the sign of X cannot be told, and no more of R than its value. */
    public static BandValue magnitudeOnly(
            double frequencyHz,
            double magnitudeOhm,
            double resistanceOhm,
            double magnitudeU95Ohm,
            double snrDb,
            BandBudget budget) {
        return magnitudeOnly(frequencyHz, magnitudeOhm, resistanceOhm, magnitudeU95Ohm, snrDb, budget, null);
    }

    /** |Z| and R in ohms where the sign of X cannot be told (power route). */
    public static BandValue magnitudeOnly(
            double frequencyHz,
            double magnitudeOhm,
            double resistanceOhm,
            double magnitudeU95Ohm,
            double snrDb,
            BandBudget budget,
            @Nullable ImpedanceOutline outline) {
        double none = Double.NaN;
        return new BandValue(
                frequencyHz,
                BandStatus.MEASURED,
                resistanceOhm,
                none,
                magnitudeOhm,
                none,
                magnitudeU95Ohm,
                none,
                none,
                none,
                snrDb,
                null,
                budget,
                false,
                outline);
    }

    /** Bounds on |Z| in ohms, nothing more. */
    public static BandValue interval(double frequencyHz, double lowOhm, double highOhm, double snrDb) {
        double none = Double.NaN;
        return new BandValue(
                frequencyHz,
                BandStatus.INTERVAL,
                none,
                none,
                none,
                none,
                none,
                none,
                lowOhm,
                highOhm,
                snrDb,
                null,
                null,
                false,
                null);
    }

    /** A band about which the takes say nothing. */
    public static BandValue rejected(double frequencyHz, double snrDb) {
        double none = Double.NaN;
        return new BandValue(
                frequencyHz,
                BandStatus.REJECTED,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                snrDb,
                null,
                null,
                false,
                null);
    }

    /** The same at a frequency that differs from its own by rounding alone. */
    BandValue movedTo(double hz) {
        return new BandValue(
                hz,
                status,
                resistanceOhm,
                reactanceOhm,
                magnitudeOhm,
                phaseRad,
                magnitudeU95Ohm,
                phaseU95Rad,
                magnitudeLowOhm,
                magnitudeHighOhm,
                snrDb,
                covariance,
                budget,
                byDraws,
                outline);
    }

    /** The same with expanded uncertainties of modulus (Ω) and phase (rad) that come from random draws. */
    public BandValue withDrawn(double magnitudeU95Ohm, double phaseU95Rad) {
        return new BandValue(
                frequencyHz,
                status,
                resistanceOhm,
                reactanceOhm,
                magnitudeOhm,
                phaseRad,
                magnitudeU95Ohm,
                phaseU95Rad,
                magnitudeLowOhm,
                magnitudeHighOhm,
                snrDb,
                covariance,
                budget,
                true,
                outline);
    }

    /** Phase in degrees, NaN where not determined. */
    public double phaseDeg() {
        return Math.toDegrees(phaseRad);
    }

    /** 95 % expanded uncertainty of the phase in degrees, NaN where not determined. */
    public double phaseU95Deg() {
        return Math.toDegrees(phaseU95Rad);
    }

    /** What makes of standard uncertainties of R and X ones of which 1.96 give what is stated. */
    public Widening widening() {
        return Widening.of(this);
    }

    /**
     * Standard uncertainty of |Z| in ohms: that of the budget; without one, and where draws made what is stated,
     * {@code U/1.96}.
     */
    public double magnitudeStandardUncertaintyOhm() {
        return hasFactor() ? Objects.requireNonNull(budget).combined() : magnitudeU95Ohm / CoverageFactor.NORMAL;
    }

    /**
     * Degrees of freedom that the uncertainty of |Z| rests on: those of Student's t with the factor between the stated and the
     * standard uncertainty; infinite where it counts as known. Source: JCGM 100:2008, G.4.
     */
    public double magnitudeFreedom() {
        return hasFactor()
                ? CoverageFactor.freedom(magnitudeU95Ohm / magnitudeStandardUncertaintyOhm())
                : Double.POSITIVE_INFINITY;
    }

    private boolean hasFactor() {
        return budget != null && budget.combined() > 0 && !byDraws;
    }

    /** True when this band holds a value with an uncertainty. */
    public boolean isMeasured() {
        return status == BandStatus.MEASURED;
    }
}
