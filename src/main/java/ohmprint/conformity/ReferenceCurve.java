package ohmprint.conformity;

import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.uncertainty.CoverageFactor;
import org.jspecify.annotations.Nullable;

/**
 * A curve of |Z| with limits to both sides. Between two points everything is a straight line in log Ω against log Hz.
 *
 * @param points two or more, by ascending frequency
 * @param fromHz where the comparison begins, hertz, not below the first point
 * @param toHz where it ends, hertz, not above the last point
 * @param units how many microphones the limits come from, or null
 */
public record ReferenceCurve(
        List<Point> points,
        double fromHz,
        double toHz,
        @Nullable Integer units) {
    /** Relative difference at which two frequencies still are the same. */
    private static final double SAME_FREQUENCY = 1e-6;

    /**
     * Copies the points.
     *
     * @throws IllegalArgumentException if they do not ascend, are fewer than two, or do not reach as far as the range
     */
    public ReferenceCurve {
        points = List.copyOf(points);
        for (int i = 1; i < points.size(); i++) {
            if (!(points.get(i).hz() > points.get(i - 1).hz())) {
                throw new IllegalArgumentException("the reference's points do not ascend at "
                        + points.get(i).hz() + " Hz; sort them by frequency, each once");
            }
        }
        if (points.size() < 2
                || !(fromHz < toHz)
                || fromHz < points.get(0).hz() * (1 - SAME_FREQUENCY)
                || toHz > points.get(points.size() - 1).hz() * (1 + SAME_FREQUENCY)) {
            throw new IllegalArgumentException("a reference needs two or more points that reach from " + fromHz
                    + " Hz to " + toHz + " Hz; add points or narrow the range");
        }
    }

    /**
     * One point.
     *
     * @param hz frequency in hertz
     * @param ohm the reference in ohms
     * @param lowOhm lower limit in ohms
     * @param highOhm upper limit in ohms
     * @param u95Percent 95 % uncertainty of all three in percent of them, 0 for exact ones
     */
    public record Point(double hz, double ohm, double lowOhm, double highOhm, double u95Percent) {
        /**
         * Checks the order.
         *
         * @throws IllegalArgumentException unless {@code 0 < low ≤ ohm ≤ high}, {@code low < high} and frequency is positive
         */
        public Point {
            if (!(hz > 0)
                    || !(u95Percent >= 0)
                    || !(0 < lowOhm && lowOhm <= ohm && ohm <= highOhm && lowOhm < highOhm)) {
                throw new IllegalArgumentException("a point needs positive hertz and 0 < low ≤ ohm ≤ high, not " + hz
                        + " Hz: " + lowOhm + " Ω, " + ohm + " Ω, " + highOhm + " Ω");
            }
        }
    }

    /** Limits at a frequency in hertz between the first and the last point. */
    public Limits limits(double hz) {
        return new Limits(
                Math.exp(at(hz, p -> Math.log(p.lowOhm()))),
                Math.exp(at(hz, p -> Math.log(p.highOhm()))),
                at(hz, p -> p.u95Percent() / 100 / CoverageFactor.NORMAL));
    }

    /** The reference in ohms at a frequency in hertz between the first and the last point. */
    public double ohm(double hz) {
        return Math.exp(at(hz, p -> Math.log(p.ohm())));
    }

    private double at(double hz, ToDoubleFunction<Point> value) {
        int i = 1;
        while (i < points.size() - 1 && points.get(i).hz() < hz) {
            i++;
        }
        Point a = points.get(i - 1);
        Point b = points.get(i);
        double share = Math.log(hz / a.hz()) / Math.log(b.hz() / a.hz());
        share = Math.max(0, Math.min(1, share));
        return (1 - share) * value.applyAsDouble(a) + share * value.applyAsDouble(b);
    }
}
