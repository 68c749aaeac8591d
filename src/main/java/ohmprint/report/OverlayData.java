package ohmprint.report;

import java.util.List;
import ohmprint.curve.ImpedanceCurve;
import org.jspecify.annotations.Nullable;

/**
 * Curves to be laid over each other.
 *
 * @param title heading
 * @param subtitle what the ohms are
 * @param curves the curves in their order
 * @param range a range of |Z| in ohms with its middle, before which the curves step back as thin lines; null for none
 * @param caption what has to be said below
 */
public record OverlayData(
        String title,
        String subtitle,
        List<Curve> curves,
        @Nullable List<Point> range,
        String caption) {
    /** Copies the lists. */
    public OverlayData {
        curves = List.copyOf(curves);
        range = range == null ? null : List.copyOf(range);
    }

    /**
     * One curve.
     *
     * @param label what it is called in the key
     * @param curve its values
     * @param difference how it differs from the first curve, in percent; empty for none
     */
    public record Curve(String label, ImpedanceCurve curve, List<Point> difference) {
        /** Copies the points. */
        public Curve {
            difference = List.copyOf(difference);
        }
    }

    /**
     * A value with a range around it.
     *
     * @param hz frequency in hertz
     * @param value the value
     * @param low lower end
     * @param high upper end
     * @param marked whether it stands out
     */
    public record Point(double hz, double value, double low, double high, boolean marked) {}
}
