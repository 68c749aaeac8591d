package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.ImpedanceOutline;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.PredictedValue;
import ohmprint.impedance.SharedCause;
import ohmprint.text.Numbers;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * A measured curve made ready for predictions: the part of it that lies in a frequency range, and the source at 1 kHz.
 * Outside the bands of the curve nothing is known, and nothing is predicted there.
 */
public final class SourceCurve {
    /** Midbands this close outside a range, relative, still belong to it: 19.95 Hz is the third octave of 20 Hz. */
    private static final double NOMINAL = 1.003;

    /** Uncertainty of R over that of |Z| where only the latter is stated. */
    private static final double R_TO_MAGNITUDE = 2;

    private final ImpedanceCurve curve;
    private final List<SourceBand> bands;
    private final List<PlaneCovariance> own;
    private final List<SharedCause> shared;
    private final int first;
    private final int last;
    private final SourceBand reference;
    private final ImpedanceCurve.@Nullable Place referencePlace;

    private SourceCurve(ImpedanceCurve curve, int first, int last) {
        this.curve = curve;
        this.first = first;
        this.last = last;
        bands = curve.values().stream().map(SourceBand::of).toList();
        List<PlaneCovariance> covariances = new ArrayList<>();
        CurveCovariance across = curve.covariance();
        for (int i = 0; i < bands.size(); i++) {
            PlaneCovariance noise = across == null ? null : across.noise(i);
            BandValue v = curve.values().get(i);
            PlaneCovariance alone = noise == null ? covariance(v) : noise;
            covariances.add(bands.get(i).hasValue() ? v.widening().of(alone) : PlaneCovariance.ZERO);
        }
        own = List.copyOf(covariances);
        shared = across == null
                ? List.of()
                : across.causes().stream().map(this::widened).toList();
        referencePlace = curve.place(FrequencyBands.REFERENCE_HZ);
        reference = SourceBand.of(curve.at(FrequencyBands.REFERENCE_HZ));
    }

    /**
     * The part of a curve whose midbands lie in a range; a third octave called 20 Hz lies in one from 20 Hz.
     *
     * @param fromHz lowest frequency in hertz
     * @param toHz highest frequency in hertz
     * @throws IllegalArgumentException if no band with a statement lies in it
     */
    public static SourceCurve of(ImpedanceCurve curve, double fromHz, double toHz) {
        int first = -1;
        int last = -1;
        for (int i = 0; i < curve.values().size(); i++) {
            double f = curve.values().get(i).frequencyHz();
            boolean says = curve.values().get(i).status() != BandStatus.REJECTED;
            if (says && f * NOMINAL >= fromHz && f <= toHz * NOMINAL) {
                first = first < 0 ? i : first;
                last = i;
            }
        }
        if (first < 0) {
            throw new IllegalArgumentException("the curve says nothing between " + Numbers.brief(fromHz) + " Hz and "
                    + Numbers.brief(toHz) + " Hz; choose a range that it holds");
        }
        return new SourceCurve(curve, first, last);
    }

    /** A cause whose effects are such that 1.96 of them give what the bands state. */
    private SharedCause widened(SharedCause cause) {
        double[] r = cause.resistancesOhm();
        double[] x = cause.reactancesOhm();
        for (int i = 0; i < r.length; i++) {
            double[] wide = curve.values().get(i).widening().of(r[i], x[i]);
            r[i] = wide[0];
            x[i] = wide[1];
        }
        return SharedCause.ofOhms(cause.name(), cause.origin(), r, x);
    }

    /** What is uncertain in a band: the stored covariance, or one that gives the stored uncertainties of |Z| and phase. */
    private static PlaneCovariance covariance(BandValue v) {
        PlaneCovariance stored = v.covariance();
        if (stored != null) {
            return stored;
        }
        SourceBand band = SourceBand.of(v);
        Complex direction = band.ohms().divide(Math.max(band.ohms().abs(), Double.MIN_NORMAL));
        double along = finite(v.magnitudeU95Ohm()) / CoverageFactor.NORMAL;
        double across = finite(v.phaseU95Rad()) * band.ohms().abs() / CoverageFactor.NORMAL;
        return PlaneCovariance.ofCause(along * direction.getReal(), along * direction.getImaginary())
                .plus(PlaneCovariance.ofCause(-across * direction.getImaginary(), across * direction.getReal()));
    }

    private static double finite(double u) {
        return Double.isFinite(u) ? u : 0;
    }

    /** First band of the range. */
    int first() {
        return first;
    }

    /** Last band of the range, itself included. */
    int last() {
        return last;
    }

    /** Bands of the curve, those outside the range included. */
    int size() {
        return bands.size();
    }

    SourceBand band(int i) {
        return bands.get(i);
    }

    /** Lower edge of a band in hertz. */
    double lowerEdgeHz(int i) {
        return curve.bands().lowerEdge(i);
    }

    /** Upper edge of a band in hertz. */
    double upperEdgeHz(int i) {
        return curve.bands().upperEdge(i);
    }

    /**
     * Standard uncertainty of what changes by so much per ohm of R and of |Z| in a band that does not tell the sign of X. A curve
     * of an older version tells nothing of R but its value; it counts as known half as well as |Z|.
     */
    double unsigned(int i, double byResistance, double byMagnitude) {
        BandValue v = curve.values().get(i);
        ImpedanceOutline outline = v.outline();
        if (outline == null) {
            double u = finite(v.magnitudeU95Ohm()) / CoverageFactor.NORMAL;
            return u * Math.hypot(byMagnitude, R_TO_MAGNITUDE * byResistance);
        }
        return outline.reach(byResistance, byMagnitude, v.resistanceOhm(), v.magnitudeOhm()) / CoverageFactor.NORMAL;
    }

    /** What is uncertain in a band besides the shared causes, Ω². */
    PlaneCovariance own(int i) {
        return own.get(i);
    }

    /** Causes of error that bands share; none where only each band's own uncertainty is known. */
    List<SharedCause> shared() {
        return shared;
    }

    /** The source at 1 kHz. */
    SourceBand reference() {
        return reference;
    }

    /**
     * What of the uncertainty of a band is felt at 1 kHz: {@code dZ = (1−w)·Z/Z_a·dZ_a + w·Z/Z_b·dZ_b} with ln Z on a straight line between
     * the bands; 0 for bands that are not beside it.
     */
    double shareAtReference(int i) {
        ImpedanceCurve.Place place = referencePlace;
        if (place == null || i < place.lower() || i > place.lower() + 1) {
            return 0;
        }
        double share = i == place.lower() ? 1 - place.share() : place.share();
        return share == 0
                ? 0
                : share * reference.ohms().abs() / bands.get(i).ohms().abs();
    }

    /** The band at 1 kHz or next below. */
    int referenceBand() {
        return referencePlace == null ? 0 : referencePlace.lower();
    }

    /** Lowest midband of the range about which something is known, in hertz. */
    public double lowestHz() {
        return bands.get(first).hz();
    }

    /** Highest midband of the range about which something is known, in hertz. */
    public double highestHz() {
        return bands.get(last).hz();
    }

    /** Bands within the range about which nothing is known. */
    public int gaps() {
        return count(SourceBand.Kind.NOTHING);
    }

    /** Bands within the range of which only bounds are known. */
    public int bounded() {
        return count(SourceBand.Kind.BOUNDS);
    }

    /** Bands within the range of which |Z| and R are known, but not the sign of X. */
    public int unsigned() {
        return count(SourceBand.Kind.UNSIGNED);
    }

    /** Bands of the range. */
    public int bandCount() {
        return last - first + 1;
    }

    private int count(SourceBand.Kind kind) {
        return (int) bands.subList(first, last + 1).stream()
                .filter(b -> b.kind() == kind)
                .count();
    }

    /** True when something is known of the source at 1 kHz. */
    public boolean hasReference() {
        return reference.kind() != SourceBand.Kind.NOTHING;
    }

    /**
     * The rule of ten times: ten times the greatest |Z| of the range, in ohms, and where that is. Common practice, no
     * source.
     */
    public PredictedValue tenTimes() {
        List<PredictedValue> moduli = new ArrayList<>();
        for (int i = first; i <= last; i++) {
            BandValue v = curve.values().get(i);
            SourceBand b = bands.get(i);
            moduli.add(
                    b.hasValue()
                            ? new PredictedValue(
                                    v.magnitudeOhm(), v.magnitudeU95Ohm(), Double.NaN, Double.NaN, v.frequencyHz())
                            : PredictedValue.between(b.lowOhm(), b.highOhm(), b.hz()));
        }
        return Extreme.greatest(moduli).times(10);
    }

    /**
     * What a curve says of the source at one frequency.
     *
     * @param hz the frequency
     * @param kind how much is known
     * @param ohms Z; with the sign of X unknown, the one with X of 0 or more
     * @param lowOhm least |Z| of a band that has bounds only
     * @param highOhm greatest |Z| likewise, may be infinite
     */
    record SourceBand(double hz, Kind kind, Complex ohms, double lowOhm, double highOhm) {
        /** How much is known. */
        enum Kind {
            /** R and X. */
            COMPLEX,
            /** R and |Z|, not the sign of X. */
            UNSIGNED,
            /** Bounds of |Z|. */
            BOUNDS,
            /** Nothing. */
            NOTHING
        }

        static SourceBand of(BandValue v) {
            return switch (v.status()) {
                case MEASURED -> measured(v);
                case INTERVAL -> bounds(v.frequencyHz(), v.magnitudeLowOhm(), v.magnitudeHighOhm());
                case REJECTED -> nothing(v.frequencyHz());
            };
        }

        private static SourceBand measured(BandValue v) {
            double r = v.resistanceOhm();
            double x = v.reactanceOhm();
            double m = v.magnitudeOhm();
            if (!Double.isNaN(x)) {
                return new SourceBand(v.frequencyHz(), Kind.COMPLEX, new Complex(r, x), Double.NaN, Double.NaN);
            }
            if (Double.isNaN(r)) {
                double u = v.magnitudeU95Ohm() > 0 ? v.magnitudeU95Ohm() : 0;
                return bounds(v.frequencyHz(), Math.max(0, m - u), m + u);
            }
            // R and |Z| are estimated each for itself, so that noise may put R above |Z|.
            double within = Math.max(-m, Math.min(m, r));
            Complex z = new Complex(within, Math.sqrt(Math.max(0, m * m - within * within)));
            return new SourceBand(v.frequencyHz(), Kind.UNSIGNED, z, Double.NaN, Double.NaN);
        }

        static SourceBand bounds(double hz, double lowOhm, double highOhm) {
            return new SourceBand(hz, Kind.BOUNDS, Complex.NaN, lowOhm, highOhm);
        }

        static SourceBand nothing(double hz) {
            return new SourceBand(hz, Kind.NOTHING, Complex.NaN, Double.NaN, Double.NaN);
        }

        /** True when there is an impedance to calculate with. */
        boolean hasValue() {
            return kind == Kind.COMPLEX || kind == Kind.UNSIGNED;
        }
    }
}
