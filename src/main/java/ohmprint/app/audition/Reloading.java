package ohmprint.app.audition;

import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.function.ToDoubleFunction;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.circuit.Divider;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.interpolation.SplineInterpolator;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The filter from one load to another within the measured band: {@code H = (1 + Z·y_a)/(1 + Z·y_b)}.
 *
 * <p>Where the curve holds the source in parallel with its input, {@code Z' = Z/(1 + Z·Y_in)}, the input cancels:
 * {@code H = (1 + Z'·G_a)/(1 + Z'·G_b)}. Between the midbands R and X each run as a natural cubic spline over ln f.
 */
final class Reloading {
    private static final double LEAST_BANDS = 3;
    private static final double DB_PER_NEPER = 20 / Math.log(10);

    private final List<BandValue> values;
    private final UnivariateFunction resistance;
    private final UnivariateFunction reactance;
    private final AuditionRequest.Side from;
    private final AuditionRequest.Side to;
    private final boolean bridged;

    private Reloading(List<BandValue> values, boolean bridged, AuditionRequest.Side from, AuditionRequest.Side to) {
        this.values = values;
        this.bridged = bridged;
        this.from = from;
        this.to = to;
        resistance = overLogFrequency(values, BandValue::resistanceOhm);
        reactance = overLogFrequency(values, BandValue::reactanceOhm);
    }

    /** A natural cubic spline over ln f. */
    private static UnivariateFunction overLogFrequency(List<BandValue> values, ToDoubleFunction<BandValue> value) {
        return new SplineInterpolator()
                .interpolate(
                        values.stream()
                                .mapToDouble(v -> Math.log(v.frequencyHz()))
                                .toArray(),
                        values.stream().mapToDouble(value).toArray());
    }

    /** Z in ohms at a frequency in hertz within the band. */
    private Complex impedance(double hz) {
        double x = Math.log(hz);
        return new Complex(resistance.value(x), reactance.value(x));
    }

    /**
     * The filter by a curve.
     *
     * @throws BadInputException if the curve has no phase, too few values, or does not go with the inputs
     */
    static Reloading of(NamedCurve stored, AuditionRequest.Side from, AuditionRequest.Side to)
            throws BadInputException {
        ImpedanceCurve curve = stored.measurement().curve();
        List<BandValue> values = curve.values().stream()
                .filter(v -> v.isMeasured() && Double.isFinite(v.reactanceOhm()))
                .toList();
        if (values.size() < LEAST_BANDS) {
            throw new BadInputException(stored.name() + " holds magnitude and phase in " + values.size()
                    + " bands; three are the least. A curve of the power route has no phase: measure with the same"
                    + " sound in all takes, or with a reference channel");
        }
        if (curve.parallelWithInput() && (from.inputOhm() != null || to.inputOhm() != null)) {
            throw new BadInputException(stored.name() + " holds the source in parallel with its recording input, which"
                    + " was not known; leave the input out, and use takes recorded through that same input");
        }
        if (!curve.parallelWithInput() && (from.inputOhm() == null || to.inputOhm() == null)) {
            throw new BadInputException("the recording input is missing; state its resistance in ohms, it lies in"
                    + " parallel with every load");
        }
        int first = curve.values().indexOf(values.get(0));
        int last = curve.values().indexOf(values.get(values.size() - 1));
        return new Reloading(values, last - first + 1 > values.size(), from, to);
    }

    /** First midband in hertz. */
    double lowestHz() {
        return values.get(0).frequencyHz();
    }

    /** Last midband in hertz. */
    double highestHz() {
        return values.get(values.size() - 1).frequencyHz();
    }

    /** Whether bands without a value lie between others. */
    boolean bridged() {
        return bridged;
    }

    /** H at a frequency in hertz within the band. */
    Complex response(double hz) {
        return Divider.ratio(impedance(hz), to.admittance(hz), from.admittance(hz));
    }

    /** Change of level at a frequency in hertz within the band, with the uncertainty of the nearest midband. */
    AuditionOutcome.Change change(double hz) {
        Complex z = impedance(hz);
        Complex a = from.admittance(hz);
        Complex b = to.admittance(hz);
        Complex slope = a.multiply(Divider.response(z, a)).subtract(b.multiply(Divider.response(z, b)));
        BandValue near = nearest(hz);
        PlaneCovariance stored = near.covariance();
        PlaneCovariance stated = stored == null ? null : near.widening().of(stored);
        double u = DB_PER_NEPER * Math.sqrt(Math.max(0, variance(slope, stated)));
        return new AuditionOutcome.Change(
                hz, DB_PER_NEPER * Math.log(response(hz).abs()), CoverageFactor.NORMAL * u);
    }

    /** Variance of Re(g·δZ). */
    private static double variance(Complex g, @Nullable PlaneCovariance c) {
        double re = g.getReal();
        double im = g.getImaginary();
        return c == null ? 0 : re * re * c.varR() + im * im * c.varX() - 2 * re * im * c.covRX();
    }

    private BandValue nearest(double hz) {
        double[] all = values.stream().mapToDouble(BandValue::frequencyHz).toArray();
        int at = Arrays.binarySearch(all, hz);
        int above = Math.min(all.length - 1, at >= 0 ? at : -at - 1);
        int below = Math.max(0, above - 1);
        return values.get(hz / all[below] < all[above] / hz ? below : above);
    }

    /**
     * A response within a band, continued to unity outside: {@code ln H(f) = s·ln H(edge)}, s running from 1 at the edge
     * to 0 with two continuous derivatives, over {@value #OCTAVES_BELOW} octaves below the band, and over one octave above it
     * or up to half the sample rate.
     */
    static final class Extension implements DoubleFunction<Complex> {
        private static final double OCTAVES_BELOW = 3;
        /** The band ends at this share of half the sample rate at the latest: the way to unity needs room. */
        private static final double ROOM = 0.9;

        private final DoubleFunction<Complex> inside;
        private final double lowHz;
        private final double highHz;
        private final double unityHz;
        private final Complex low;
        private final Complex high;

        /**
         * Continues a response.
         *
         * @param inside the response within the band
         * @param lowHz lower end of the band in hertz
         * @param highHz its upper end
         * @param rate sample rate in hertz
         */
        Extension(DoubleFunction<Complex> inside, double lowHz, double highHz, double rate) {
            this.inside = inside;
            this.lowHz = lowHz;
            this.highHz = Math.min(highHz, ROOM * rate / 2);
            this.unityHz = Math.min(2 * this.highHz, rate / 2);
            if (!(this.highHz > lowHz)) {
                throw new IllegalArgumentException("a sample rate of " + rate
                        + " Hz holds nothing of a band that begins at " + lowHz + " Hz; use a take of a higher rate");
            }
            low = inside.apply(lowHz).log();
            high = inside.apply(this.highHz).log();
        }

        /** Upper end of the band that is followed, in hertz. */
        double highHz() {
            return highHz;
        }

        @Override
        public Complex apply(double hz) {
            if (hz < lowHz) {
                double octaves = hz > 0 ? Math.log(lowHz / hz) / Math.log(2) : OCTAVES_BELOW;
                return low.multiply(1 - smooth(octaves / OCTAVES_BELOW)).exp();
            }
            if (hz > highHz) {
                return high.multiply(1 - smooth((hz - highHz) / (unityHz - highHz)))
                        .exp();
            }
            return inside.apply(hz);
        }

        /** From 0 at 0 to 1 at 1. */
        private static double smooth(double share) {
            double u = Math.min(1, Math.max(0, share));
            return u * u * u * (10 - 15 * u + 6 * u * u);
        }
    }
}
