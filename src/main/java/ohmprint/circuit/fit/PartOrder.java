package ohmprint.circuit.fit;

import java.util.List;
import java.util.stream.IntStream;

/**
 * Which of two parts of one kind is called the first. Two resonances in series, or two bridged inductors, may be exchanged
 * without a change of the circuit, and the fit ends at either.
 */
final class PartOrder {
    private PartOrder() {}

    /** Of two parts of one kind the one that works lower in frequency comes first. */
    static Fit byFrequency(Fit fit) {
        return ordered(fit, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY);
    }

    /** Of two parts of one kind the one nearer to the first of that kind in another circuit comes first. */
    static Fit like(Fit fit, Fit other) {
        int tuned = index(other, "resonance_ohm");
        int bridged = index(other, "bridged_henry");
        return ordered(
                fit,
                tuned < 0 ? Double.NEGATIVE_INFINITY : other.p()[tuned + 1],
                bridged < 0 ? Double.NEGATIVE_INFINITY : other.p()[bridged + 1] - other.p()[bridged]);
    }

    /** Orders by distance from the logarithms of a frequency, and of a corner R/L in rad/s. */
    private static Fit ordered(Fit fit, double hz, double corner) {
        double[] p = fit.p().clone();
        int tuned = index(fit, "resonance_ohm");
        if (fit.candidate().resonances() == 2 && isNearer(p[tuned + 4], p[tuned + 1], hz)) {
            swap(p, tuned, 3);
        }
        int bridged = index(fit, "bridged_henry");
        if (index(fit, "second_bridged_henry") >= 0
                && isNearer(p[bridged + 3] - p[bridged + 2], p[bridged + 1] - p[bridged], corner)) {
            swap(p, bridged, 2);
        }
        return new Fit(fit.candidate(), p, fit.chiSquare());
    }

    /** Whether a is nearer to a place than b; to a place at minus infinity the lower one is. */
    private static boolean isNearer(double a, double b, double place) {
        return Double.isInfinite(place) ? a < b : Math.abs(a - place) < Math.abs(b - place);
    }

    private static void swap(double[] p, int from, int length) {
        for (int i = from; i < from + length; i++) {
            double kept = p[i];
            p[i] = p[i + length];
            p[i + length] = kept;
        }
    }

    private static int index(Fit fit, String name) {
        List<Value> values = fit.candidate().part().values();
        return IntStream.range(0, values.size())
                .filter(i -> values.get(i).name().equals(name))
                .findFirst()
                .orElse(-1);
    }
}
