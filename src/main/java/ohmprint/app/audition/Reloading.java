package ohmprint.app.audition;

import java.util.Arrays;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.StoredCurve;
import ohmprint.circuit.Divider;
import ohmprint.circuit.MeasuredSource;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.PlaneCovariance;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The filter from one load to another within the measured band: {@code H = (1 + Z·y_a)/(1 + Z·y_b)}.
 *
 * <p>Where the curve holds the source in parallel with its input, {@code Z' = Z/(1 + Z·Y_in)}, the input cancels:
 * {@code H = (1 + Z'·G_a)/(1 + Z'·G_b)}.
 */
final class Reloading {
    private static final double LEAST_BANDS = 3;
    private static final double DB_PER_NEPER = 20 / Math.log(10);

    private final List<BandValue> values;
    private final MeasuredSource source;
    private final AuditionRequest.Side from;
    private final AuditionRequest.Side to;
    private final boolean bridged;

    private Reloading(List<BandValue> values, boolean bridged, AuditionRequest.Side from, AuditionRequest.Side to) {
        this.values = values;
        this.bridged = bridged;
        this.from = from;
        this.to = to;
        source = new MeasuredSource(
                values.stream().mapToDouble(BandValue::frequencyHz).toArray(),
                values.stream()
                        .map(v -> new Complex(v.resistanceOhm(), v.reactanceOhm()))
                        .toArray(Complex[]::new));
    }

    /**
     * The filter by a curve.
     *
     * @throws BadInputException if the curve has no phase, too few values, or does not go with the inputs
     */
    static Reloading of(StoredCurve stored, AuditionRequest.Side from, AuditionRequest.Side to)
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
        return source.lowestHz();
    }

    /** Last midband in hertz. */
    double highestHz() {
        return source.highestHz();
    }

    /** Whether bands without a value lie between others. */
    boolean bridged() {
        return bridged;
    }

    /** H at a frequency in hertz within the band. */
    Complex response(double hz) {
        return Divider.ratio(source.impedance(hz), admittance(to, hz), admittance(from, hz));
    }

    /** Change of level at a frequency in hertz within the band, with the uncertainty of the nearest midband. */
    AuditionOutcome.Change change(double hz) {
        Complex z = source.impedance(hz);
        Complex a = admittance(from, hz);
        Complex b = admittance(to, hz);
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

    private static Complex admittance(AuditionRequest.Side side, double hz) {
        Double ohm = side.inputOhm();
        return new Complex(
                side.load().conductance() + (ohm == null ? 0 : 1 / ohm), 2 * Math.PI * hz * side.inputPf() * 1e-12);
    }
}
