package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.LineChart;
import ohmprint.circuit.Divider;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.LoadedTakes;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.session.Take;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The straight lines of a measured session, {@code 1/D_k = a + b·y_k} against load admittance in one band, scaled so that a = 1.
 *
 * <p>In one band D_k is the weighted mean of {@code D_k·A*} over its bins, A being what the fit gives for the bin, so that
 * the room's notches weigh little.
 */
public final class LoadLines {
    private static final double[] WANTED_HZ = {40, 100, 300, 1000, 4000, 14_000};

    private final String label;
    private final ImpedanceCurve curve;
    private final LoadedTakes loads;
    private final BinObservations bins;
    private final boolean[] leftOut;

    /**
     * Lines of a session.
     *
     * @param label microphone label
     * @param curve the curve
     * @param seen all takes that could be compared
     * @param used those that the curve rests on
     */
    LoadLines(String label, ImpedanceCurve curve, TakeSet seen, TakeSet used) {
        this.label = label;
        this.curve = curve;
        this.loads = seen.loads();
        this.bins = seen.bins();
        this.leftOut = new boolean[seen.size()];
        for (Take take : seen.takes()) {
            leftOut[seen.index(take)] = !used.holds(take);
        }
    }

    /**
     * Draws the band nearest to a frequency.
     *
     * @param hz the frequency in hertz
     * @param dark whether it is for a dim room
     * @return an SVG picture
     * @throws BadInputException if no band within half an octave or so has a complex value
     */
    public String svg(double hz, boolean dark) throws BadInputException {
        List<LineChart.Band> bands = bands(hz);
        if (bands.isEmpty()) {
            throw new BadInputException(
                    "no band near " + Math.round(hz) + " Hz has a value with its phase; choose another frequency");
        }
        return LineChart.ofBand(bands.get(0), dark ? ChartTheme.DARK : ChartTheme.LIGHT)
                .svg();
    }

    /** Data of the picture of a result, or null when no band has a complex value and takes that are heard in it. */
    LineChart.@Nullable Data data() {
        List<LineChart.Band> bands = bands(WANTED_HZ);
        return bands.isEmpty() ? null : new LineChart.Data(label, bands);
    }

    private List<LineChart.Band> bands(double... wantedHz) {
        List<LineChart.Band> bands = new ArrayList<>();
        int last = -1;
        for (double hz : wantedHz) {
            int b = nearest(hz);
            if (b >= 0 && b != last && bands.size() < LineChart.MOST_BANDS) {
                LineChart.@Nullable Band band = band(b);
                if (band != null) {
                    bands.add(band);
                }
                last = b;
            }
        }
        return bands;
    }

    private int nearest(double hz) {
        int best = -1;
        for (int b = 0; b < curve.values().size(); b++) {
            BandValue v = curve.values().get(b);
            boolean complex = v.status() == BandStatus.MEASURED && !Double.isNaN(v.reactanceOhm());
            if (complex
                    && Math.abs(Math.log(v.frequencyHz() / hz)) < 0.5
                    && (best < 0 || distance(b, hz) < distance(best, hz))) {
                best = b;
            }
        }
        return best;
    }

    private double distance(int b, double hz) {
        return Math.abs(Math.log(curve.values().get(b).frequencyHz() / hz));
    }

    /** One band; null where fewer than two takes are heard in it. */
    private LineChart.@Nullable Band band(int b) {
        BandValue value = curve.values().get(b);
        Complex z = new Complex(value.resistanceOhm(), value.reactanceOhm());
        int n = loads.size();
        double[] re = new double[n];
        double[] im = new double[n];
        double[] noise = new double[n];
        double power = 0;
        for (int i = bins.firstAtOrAbove(curve.bands().lowerEdge(b));
                i < bins.firstAtOrAbove(curve.bands().upperEdge(b));
                i++) {
            power += accumulate(i, z, re, im, noise);
        }
        List<LineChart.Point> points = new ArrayList<>();
        for (int k = 0; k < n; k++) {
            Complex y = Divider.admittance(loads.loads().get(k), loads.input(), value.frequencyHz());
            Complex d = new Complex(re[k], im[k]).divide(power);
            Complex inverse = d.reciprocal();
            double u = 2 * Math.sqrt(noise[k]) / power * Math.pow(inverse.abs(), 2) / Math.sqrt(2);
            // A band may be all noise, or a take silent in it: 1/D then is no number, and the take has no point.
            if (!Double.isFinite(inverse.getReal()) || !Double.isFinite(inverse.getImaginary())) {
                continue;
            }
            points.add(new LineChart.Point(
                    loads.loads().get(k).label(),
                    1000 * y.getReal(),
                    inverse.getReal(),
                    inverse.getImaginary(),
                    Double.isFinite(u) ? u : 0,
                    leftOut[k]));
        }
        if (points.size() < 2) {
            return null;
        }
        return new LineChart.Band(value.frequencyHz(), value.resistanceOhm(), value.reactanceOhm(), points);
    }

    /** Adds D_k·A* of one bin, with A fitted from the takes in use; returns |A|². */
    private double accumulate(int i, Complex z, double[] re, double[] im, double[] noise) {
        int n = loads.size();
        Complex[] p = new Complex[n];
        double norm = 0;
        for (int k = 0; k < n; k++) {
            Complex h = Divider.response(z, Divider.admittance(loads.loads().get(k), loads.input(), bins.hz(i)));
            p[k] = leftOut[k] ? Complex.ZERO : h.divide(bins.noise(i, k));
            norm += leftOut[k] ? 0 : h.abs() * h.abs() / bins.noise(i, k);
        }
        double power = 0;
        double[] crossRe = new double[n];
        double[] crossIm = new double[n];
        for (int k = 0; k < n; k++) {
            for (int l = 0; l < n; l++) {
                Complex s = new Complex(bins.re(i, k, l), bins.im(i, k, l)).multiply(p[l]);
                crossRe[k] += s.getReal() / norm;
                crossIm[k] += s.getImaginary() / norm;
            }
            power += p[k].conjugate()
                            .multiply(new Complex(crossRe[k], crossIm[k]))
                            .getReal()
                    / norm;
        }
        double kept = Math.max(0, power - bins.count(i) / norm);
        for (int k = 0; k < n; k++) {
            Complex own = p[k].multiply(bins.count(i) * bins.noise(i, k) / norm);
            re[k] += crossRe[k] - own.getReal();
            im[k] += crossIm[k] - own.getImaginary();
            noise[k] += bins.noise(i, k) * kept / bins.averages();
        }
        return kept;
    }
}
