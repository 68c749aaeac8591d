package ohmprint.impedance;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Impedance against frequency: stated on a grid of bands, one {@link BandValue} per band in ascending frequency, and answered at any
 * frequency between them.
 *
 * <p>Between the midbands f_a and f_b of neighbouring bands ln|Z| and the phase are straight lines over ln f, with the share
 * {@code w = ln(f/f_a)/ln(f_b/f_a)} of the upper band. A series or parallel element alone is such a line, and a resonance nearly is
 * one over a twelfth of an octave; why not R and X is in {@code src/site/markdown/decisions/between-bands.md}. The errors of the two
 * bands count as fully correlated, {@code u = (1−w)·u_a + w·u_b} (relative), which is never too little. What the line may miss of a
 * bend is added to the stated uncertainty in full: {@code w(1−w)/2} times the larger second difference of ln Z = ln|Z| + jφ at the two
 * bands (the error of linear interpolation of a parabola). A gap is not bridged, and beyond the first and the last midband nothing is said.
 *
 * <pre>{@code
 * BandValue v = curve.at(FrequencyBands.REFERENCE_HZ);        // |Z| at 1 kHz, with its uncertainty
 * ImpedanceCurve thirds = curve.on(FrequencyBands.within(3, 20, 20_000));
 * }</pre>
 *
 * @param bands the grid
 * @param values one value per band, same order and midbands as the grid
 * @param parallelWithInput true when the recording input was not known, so that the values are those of the source in
 *     parallel with that input, {@code Z ∥ Z_in}
 * @param covariance covariance of all bands with each other; null where it is not known
 * @param side what was measured; of an input, {@code parallelWithInput} says that the generator was not known, so that the
 *     values are those of the input in series with it
 * @param consistency how well the takes agree; null where fewer than three tell, or it is not known
 */
public record ImpedanceCurve(
        FrequencyBands bands,
        List<BandValue> values,
        boolean parallelWithInput,
        @Nullable CurveCovariance covariance,
        Side side,
        @Nullable Consistency consistency) {
    /** The end of the line that was measured. */
    public enum Side {
        /** The output of a microphone. */
        SOURCE,
        /** The input of a preamplifier. */
        INPUT
    }

    /** Relative difference at which two frequencies still are the same midband. */
    private static final double SAME_FREQUENCY = 1e-6;

    /**
     * Checks that values and grid belong together.
     *
     * @throws IllegalArgumentException if sizes or midbands differ
     */
    public ImpedanceCurve {
        values = List.copyOf(values);
        if (values.size() != bands.size()) {
            throw new IllegalArgumentException(
                    "a curve on " + bands.size() + " bands needs as many values, not " + values.size());
        }
        for (int i = 0; i < values.size(); i++) {
            double f = values.get(i).frequencyHz();
            if (!(Math.abs(f / bands.midband(i) - 1) < SAME_FREQUENCY)) {
                throw new IllegalArgumentException(
                        "value " + i + " belongs to " + f + " Hz, the band to " + bands.midband(i) + " Hz");
            }
        }
        if (covariance != null && covariance.size() != bands.size()) {
            throw new IllegalArgumentException("a curve on " + bands.size()
                    + " bands needs a covariance of as many bands, not " + covariance.size());
        }
        if (consistency != null && consistency.bands().size() != bands.size()) {
            throw new IllegalArgumentException(
                    "a curve on " + bands.size() + " bands needs the consistency of as many bands, not "
                            + consistency.bands().size());
        }
    }

    /** A curve of which only the covariance within each band is known. */
    public ImpedanceCurve(FrequencyBands bands, List<BandValue> values, boolean parallelWithInput) {
        this(bands, values, parallelWithInput, null);
    }

    /** A curve of a source. */
    public ImpedanceCurve(
            FrequencyBands bands,
            List<BandValue> values,
            boolean parallelWithInput,
            @Nullable CurveCovariance covariance) {
        this(bands, values, parallelWithInput, covariance, Side.SOURCE, null);
    }

    /**
     * Where a frequency lies among the bands.
     *
     * @param lower the band whose midband is at it or next below
     * @param share weight w of the band above, 0 at the midband itself
     */
    public record Place(int lower, double share) {
        /** True at the midband itself. */
        public boolean isMidband() {
            return share == 0;
        }
    }

    /** Where a frequency in hertz lies among the bands; null beyond the first and the last midband. */
    public @Nullable Place place(double hz) {
        double index = bands.index(hz);
        if (!(index > -1 && index < bands.size())) {
            return null;
        }
        int nearest = (int) Math.rint(index);
        if (nearest >= 0 && nearest < bands.size() && Math.abs(hz / bands.midband(nearest) - 1) < SAME_FREQUENCY) {
            return new Place(nearest, 0);
        }
        int lower = (int) Math.floor(index);
        return lower < 0 || lower + 1 >= bands.size() ? null : new Place(lower, index - lower);
    }

    /**
     * What the curve says at a frequency.
     *
     * @param hz the frequency in hertz
     * @return the band's own value at a midband; between two values a value, with a bend counted as noise in its budget; bounds where
     *     one of the two bands has no more; {@link BandStatus#REJECTED} where nothing is known
     */
    public BandValue at(double hz) {
        Place place = place(hz);
        if (place == null) {
            return BandValue.rejected(hz, Double.NaN);
        }
        BandValue a = values.get(place.lower());
        if (place.isMidband()) {
            return a;
        }
        BandValue b = values.get(place.lower() + 1);
        if (!isKnown(a) || !isKnown(b)) {
            return BandValue.rejected(hz, Math.min(a.snrDb(), b.snrDb()));
        }
        return isUsable(a) && isUsable(b)
                ? between(a, b, hz, place)
                : BandValue.interval(
                        hz, Math.min(least(a), least(b)), Math.max(most(a), most(b)), Math.min(a.snrDb(), b.snrDb()));
    }

    /** The same curve answered on another grid, with its covariance; how well the takes agree is not told band by band there. */
    public ImpedanceCurve on(FrequencyBands grid) {
        List<BandValue> out = new ArrayList<>();
        for (double hz : grid.midbands()) {
            BandValue v = at(hz);
            out.add(v.frequencyHz() == hz ? v : v.movedTo(hz));
        }
        return new ImpedanceCurve(grid, out, parallelWithInput, covarianceOn(grid, out), side, null);
    }

    /**
     * How |Z| of one curve compares with that of another at a frequency.
     *
     * @param log ln(|Z|/|Z'|)
     * @param u its standard uncertainty
     * @param freedom effective degrees of freedom of that, {@code u⁴/(u₁⁴/ν₁ + u₂⁴/ν₂)}, 1 or more. Source: JCGM 100:2008, G.4.1
     */
    public record LogRatio(double log, double u, double freedom) {}

    /**
     * |Z| over that of another curve.
     *
     * @param other the curve to compare with
     * @param hz the frequency in hertz
     * @param sameBench whether loads and input were the very same, so that causes among them that bear the same name move both
     *     curves together: the variance is smaller by {@code Σ 2·s₁·s₂}, from {@code ‖s₁ − s₂‖² = ‖s₁‖² + ‖s₂‖² − 2·s₁·s₂}, and
     *     larger where the same error moves the two to opposite sides
     * @return null where one of them has no value
     */
    public @Nullable LogRatio ratioTo(ImpedanceCurve other, double hz, boolean sameBench) {
        BandValue own = at(hz);
        BandValue its = other.at(hz);
        if (!isUsable(own) || !isUsable(its)) {
            return null;
        }
        double u1 = own.magnitudeStandardUncertaintyOhm() / own.magnitudeOhm();
        double u2 = its.magnitudeStandardUncertaintyOhm() / its.magnitudeOhm();
        double shared = sameBench ? sharedVariance(other, hz) : 0;
        double u = Math.sqrt(Math.max(0, u1 * u1 + u2 * u2 - shared));
        double spread = Math.pow(u1, 4) / magnitudeFreedom(hz) + Math.pow(u2, 4) / other.magnitudeFreedom(hz);
        return new LogRatio(
                Math.log(own.magnitudeOhm() / its.magnitudeOhm()),
                u,
                spread > 0 ? Math.max(1, Math.pow(u, 4) / spread) : Double.POSITIVE_INFINITY);
    }

    /**
     * Degrees of freedom that the uncertainty of |Z| rests on at a frequency: the fewer of the two bands.
     *
     * @return infinite where it counts as known; NaN where there is no value
     */
    public double magnitudeFreedom(double hz) {
        Place place = place(hz);
        if (place == null || !isUsable(place.lower())) {
            return Double.NaN;
        }
        double below = values.get(place.lower()).magnitudeFreedom();
        return place.isMidband()
                ? below
                : Math.min(below, values.get(place.lower() + 1).magnitudeFreedom());
    }

    private double sharedVariance(ImpedanceCurve other, double hz) {
        if (covariance == null || other.covariance == null) {
            return 0;
        }
        double sum = 0;
        for (SharedCause a : covariance.causes()) {
            for (SharedCause b : other.covariance.causes()) {
                boolean bench = a.origin() == CauseOrigin.LOADS || a.origin() == CauseOrigin.INPUT;
                if (bench && a.origin() == b.origin() && a.name().equals(b.name())) {
                    sum += 2
                            * relativeEffect(a, hz).re()
                            * other.relativeEffect(b, hz).re();
                }
            }
        }
        return sum;
    }

    /** What one standard deviation of a cause does to ln Z: ln|Z| and phase. */
    private record Effect(double re, double im) {}

    private Effect relativeEffect(SharedCause cause, double hz) {
        Place place = place(hz);
        if (place == null) {
            return new Effect(Double.NaN, Double.NaN);
        }
        Effect below = relativeEffect(cause, place.lower());
        if (place.isMidband()) {
            return below;
        }
        Effect above = relativeEffect(cause, place.lower() + 1);
        double w = place.share();
        return new Effect((1 - w) * below.re() + w * above.re(), (1 - w) * below.im() + w * above.im());
    }

    private Effect relativeEffect(SharedCause cause, int b) {
        BandValue v = values.get(b);
        double r = v.resistanceOhm();
        double x = v.reactanceOhm();
        double z2 = v.magnitudeOhm() * v.magnitudeOhm();
        double dR = cause.resistanceOhm(b);
        double dX = cause.reactanceOhm(b);
        double re = (r * dR + x * dX) / z2;
        double im = (r * dX - x * dR) / z2;
        return new Effect(Double.isNaN(re) ? 0 : re, Double.isNaN(im) ? 0 : im);
    }

    /** A positive value with an uncertainty; without one nothing can be decided. */
    private static boolean isUsable(BandValue v) {
        return v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0;
    }

    private static boolean isKnown(BandValue v) {
        return v.status() == BandStatus.INTERVAL || isUsable(v);
    }

    private boolean isUsable(int b) {
        return isUsable(values.get(b));
    }

    private static double least(BandValue v) {
        return v.isMeasured() ? v.magnitudeOhm() - v.magnitudeU95Ohm() : v.magnitudeLowOhm();
    }

    private static double most(BandValue v) {
        return v.isMeasured() ? v.magnitudeOhm() + v.magnitudeU95Ohm() : v.magnitudeHighOhm();
    }

    private BandValue between(BandValue a, BandValue b, double hz, Place place) {
        double w = place.share();
        double za = a.magnitudeOhm();
        double zb = b.magnitudeOhm();
        double z = Math.exp((1 - w) * Math.log(za) + w * Math.log(zb));
        double bend = bend(place);
        double u95 = z * ((1 - w) * a.magnitudeU95Ohm() / za + w * b.magnitudeU95Ohm() / zb + Math.expm1(bend));
        boolean signed = !Double.isNaN(a.phaseRad()) && !Double.isNaN(b.phaseRad());
        double phase = signed ? a.phaseRad() + w * phaseStep(a, b) : (1 - w) * angle(a) + w * angle(b);
        BandBudget budget = null;
        if (a.budget() != null && b.budget() != null) {
            BandBudget line = a.budget().times((1 - w) * z / za).plus(b.budget().times(w * z / zb));
            // A bend between its bounds is as likely anywhere: u = a/√3 (JCGM 100:2008, 4.3.7).
            budget = new BandBudget(
                    Math.hypot(line.noise(), z * Math.expm1(bend) / Math.sqrt(3)),
                    line.drift(),
                    line.loads(),
                    line.input(),
                    line.timing());
        }
        double none = Double.NaN;
        return new BandValue(
                hz,
                BandStatus.MEASURED,
                z * Math.cos(phase),
                signed ? z * Math.sin(phase) : none,
                z,
                signed ? Math.IEEEremainder(phase, 2 * Math.PI) : none,
                u95,
                signed ? (1 - w) * a.phaseU95Rad() + w * b.phaseU95Rad() + bend : none,
                none,
                none,
                Math.min(a.snrDb(), b.snrDb()),
                signed ? between(a.covariance(), b.covariance(), a, b, z, phase, w) : null,
                budget,
                a.byDraws() || b.byDraws(),
                null);
    }

    /** Angle of Z without sign, from R and |Z|, which noise may put beyond it. */
    private static double angle(BandValue v) {
        return Double.isNaN(v.phaseRad())
                ? Math.acos(Math.max(-1, Math.min(1, v.resistanceOhm() / v.magnitudeOhm())))
                : Math.abs(v.phaseRad());
    }

    /** Standard uncertainties along and across Z, and their correlation, on straight lines between two bands. */
    private static @Nullable PlaneCovariance between(
            @Nullable PlaneCovariance below,
            @Nullable PlaneCovariance above,
            BandValue a,
            BandValue b,
            double z,
            double phase,
            double w) {
        if (below == null || above == null) {
            return null;
        }
        PlaneCovariance p = below.turned(-a.phaseRad());
        PlaneCovariance q = above.turned(-b.phaseRad());
        double along =
                z * ((1 - w) * Math.sqrt(p.varR()) / a.magnitudeOhm() + w * Math.sqrt(q.varR()) / b.magnitudeOhm());
        double across =
                z * ((1 - w) * Math.sqrt(p.varX()) / a.magnitudeOhm() + w * Math.sqrt(q.varX()) / b.magnitudeOhm());
        double correlation = (1 - w) * p.correlation() + w * q.correlation();
        return new PlaneCovariance(along * along, across * across, correlation * along * across).turned(phase);
    }

    /** What a straight line may miss of a bend: {@code w(1−w)/2} times the larger second difference of ln Z at the two bands. */
    private double bend(Place place) {
        double w = place.share();
        return w * (1 - w) / 2 * Math.max(secondDifference(place.lower()), secondDifference(place.lower() + 1));
    }

    /** Size of the second difference of ln|Z| and phase at a band; 0 where a neighbour is missing. */
    private double secondDifference(int i) {
        if (i < 1 || i + 1 >= bands.size() || !isUsable(i - 1) || !isUsable(i + 1)) {
            return 0;
        }
        BandValue a = values.get(i - 1);
        BandValue b = values.get(i);
        BandValue c = values.get(i + 1);
        double log = Math.log(c.magnitudeOhm() * a.magnitudeOhm() / (b.magnitudeOhm() * b.magnitudeOhm()));
        double phase = phaseStep(b, c) - phaseStep(a, b);
        return Double.isNaN(phase) ? Math.abs(log) : Math.hypot(log, phase);
    }

    private static double phaseStep(BandValue from, BandValue to) {
        return Math.IEEEremainder(to.phaseRad() - from.phaseRad(), 2 * Math.PI);
    }

    private @Nullable CurveCovariance covarianceOn(FrequencyBands grid, List<BandValue> on) {
        if (covariance == null) {
            return null;
        }
        List<SharedCause> causes = new ArrayList<>();
        for (SharedCause cause : covariance.causes()) {
            double[] dR = new double[on.size()];
            double[] dX = new double[on.size()];
            for (int i = 0; i < dR.length; i++) {
                BandValue v = on.get(i);
                Effect effect = relativeEffect(cause, grid.midband(i));
                boolean known = v.isMeasured();
                dR[i] = known ? v.resistanceOhm() * effect.re() - v.reactanceOhm() * effect.im() : Double.NaN;
                dX[i] = known ? v.resistanceOhm() * effect.im() + v.reactanceOhm() * effect.re() : Double.NaN;
            }
            causes.add(SharedCause.ofOhms(cause.name(), cause.origin(), dR, dX));
        }
        List<@Nullable PlaneCovariance> noise = new ArrayList<>();
        for (int i = 0; i < on.size(); i++) {
            Place place = place(grid.midband(i));
            BandValue v = on.get(i);
            if (place == null || !v.isMeasured() || Double.isNaN(v.reactanceOhm())) {
                noise.add(null);
            } else if (place.isMidband()) {
                noise.add(covariance.noise(place.lower()));
            } else {
                noise.add(between(
                        covariance.noise(place.lower()),
                        covariance.noise(place.lower() + 1),
                        values.get(place.lower()),
                        values.get(place.lower() + 1),
                        v.magnitudeOhm(),
                        v.phaseRad(),
                        place.share()));
            }
        }
        return CurveCovariance.of(causes, noise);
    }

    /**
     * Covariance of |Z| in bands {@code a} and {@code b} to first order, {@code eᵀ_a·C_ab·e_b} with
     * {@code e = (R, X)/|Z|}.
     *
     * @return it in Ω²; NaN where it is not known or a band holds no complex value. Source: JCGM 100:2008, F.1.2.3
     */
    public double magnitudeCovariance(int a, int b) {
        if (covariance == null) {
            return Double.NaN;
        }
        BandValue p = values.get(a);
        BandValue q = values.get(b);
        return covariance
                .between(a, b)
                .of(
                        p.resistanceOhm() / p.magnitudeOhm(),
                        p.reactanceOhm() / p.magnitudeOhm(),
                        q.resistanceOhm() / q.magnitudeOhm(),
                        q.reactanceOhm() / q.magnitudeOhm());
    }

    /** Covariance of ln|Z| in bands {@code a} and {@code b}: {@link #magnitudeCovariance} over |Z_a|·|Z_b|. */
    public double logMagnitudeCovariance(int a, int b) {
        return magnitudeCovariance(a, b)
                / (values.get(a).magnitudeOhm() * values.get(b).magnitudeOhm());
    }

    /** What the ohms are, in words. */
    public String quantity() {
        if (side == Side.INPUT) {
            return parallelWithInput ? "input impedance in series with the generator" : "input impedance";
        }
        return parallelWithInput ? "source impedance in parallel with the input" : "source impedance";
    }

    /** Number of bands with the given status. */
    public long count(BandStatus status) {
        return values.stream().filter(v -> v.status() == status).count();
    }
}
