package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;

/** Where the fits of circuits begin, read from the curve; all values as natural logarithms of ohms, henries, farads, hertz. */
final class StartValues {
    private static final double[] QUALITIES = {0.7, 2, 5};
    private static final int PEAKS_TRIED = 2;
    /** Bands at the top from which the inductance is read. */
    private static final int TOP_BANDS = 5;
    /** How much of a ribbon's curve is the winding, and how much the ribbon behind the transformer. */
    private static final double WINDING = 0.07;

    private static final double RIBBON = 0.93;

    private final Points points;
    private final double low;
    private final double middle;
    private final double topHenries;
    private final double topOmega;
    private final double bottomOmega;

    StartValues(Points points) {
        this.points = points;
        int n = points.bands();
        double[] r =
                IntStream.range(0, n).mapToDouble(b -> points.ohms(b).getReal()).toArray();
        middle = Math.max(1e-3, new Percentile(50).evaluate(r));
        low = Math.max(0.05 * middle, DoubleStream.of(r).min().orElse(middle));
        topOmega = 2 * Math.PI * points.hz(n - 1);
        bottomOmega = 2 * Math.PI * points.hz(0);
        double top = IntStream.range(Math.max(0, n - TOP_BANDS), n)
                .mapToDouble(b -> points.ohms(b).getImaginary() / (2 * Math.PI * points.hz(b)))
                .average()
                .orElse(0);
        topHenries = Math.max(top, 1e-3 * middle / topOmega);
    }

    /** Inductance at the top of the curve, henries; a trace of one where there is none. */
    double topHenries() {
        return topHenries;
    }

    /** Angular frequency of the highest band, rad/s. */
    double topOmega() {
        return topOmega;
    }

    /** A resistor in series with the rest: the least resistance of the curve. */
    double[] resistance() {
        return new double[] {Math.log(low)};
    }

    /** A resistor and a capacitor in series. */
    double[] coupled() {
        double reactance = points.ohms(0).getImaginary();
        double farads = 1 / (bottomOmega * Math.max(0.01 * middle, Math.abs(reactance)));
        return joined(resistance(), new double[] {Math.log(farads)});
    }

    /** The capacitance of a cable across it all. */
    double[] cable() {
        return new double[] {Math.log(0.03 / (topOmega * middle))};
    }

    /** Winding, with or without leakage, and a ribbon behind its transformer, with or without its resonance. */
    List<double[]> ribbon(boolean leakage, boolean peak) {
        List<double[]> out = new ArrayList<>();
        double ribbon = RIBBON * middle;
        double[] head = leakage
                ? new double[] {Math.log(WINDING * middle), Math.log(topHenries)}
                : new double[] {Math.log(WINDING * middle)};
        for (double times : new double[] {0.7, 2, 6}) {
            double[] body = {Math.log(ribbon / (times * bottomOmega)), Math.log(ribbon)};
            if (!peak) {
                out.add(joined(head, body));
            } else {
                for (double at : new double[] {1.3, 2, 3.5}) {
                    double hz = at * bottomOmega / (2 * Math.PI);
                    out.add(joined(joined(head, body), tuned(0.3 * ribbon, hz, 2)));
                }
            }
        }
        return out;
    }

    /** A further resonance: where the resistance of the curve exceeds that of a circuit most. */
    List<double[]> peaks(Part part, double[] p) {
        int n = points.bands();
        double[] excess = new double[n];
        for (int b = 0; b < n; b++) {
            Complex z = part.impedance(2 * Math.PI * points.hz(b), p, 0, new Complex[p.length]);
            excess[b] = points.ohms(b).subtract(z).getReal();
        }
        List<double[]> out = new ArrayList<>();
        IntStream.range(0, n)
                .filter(b -> excess[b] >= excess[Math.max(0, b - 1)] && excess[b] >= excess[Math.min(n - 1, b + 1)])
                .filter(b -> b == 0 || b == n - 1 || excess[b] > excess[b - 1] || excess[b] > excess[b + 1])
                .boxed()
                .sorted(Comparator.comparingDouble(b -> -excess[b]))
                .limit(PEAKS_TRIED)
                .forEach(b -> {
                    for (double q : QUALITIES) {
                        out.add(tuned(Math.max(excess[b], 0.01 * middle), points.hz(b), q));
                    }
                });
        return out;
    }

    private static double[] tuned(double ohm, double hz, double q) {
        return new double[] {Math.log(ohm), Math.log(hz), Math.log(q)};
    }

    /** One array after another. */
    static double[] joined(double[] a, double[] b) {
        double[] out = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, out, a.length, b.length);
        return out;
    }
}
