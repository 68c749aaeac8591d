package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import org.jfree.chart.axis.AxisState;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTick;
import org.jfree.chart.axis.TickType;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.text.TextUtils;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.chart.ui.TextAnchor;

/** Axes whose ticks are chosen by {@link Ticks}, without the locale-bound number formats of the library. */
final class Axes {
    private static final float LABEL_SIZE = 12;
    private static final double UNITS_PER_LABEL = 21;

    static {
        // the library would otherwise draw upright labels as outlines, which an SVG reader cannot search
        TextUtils.setUseDrawRotatedStringWorkaround(false);
    }

    private Axes() {}

    /** Frequency in hertz, for all plots over frequency. */
    static ValueAxis frequency(CurveRanges hertz, ChartTheme theme) {
        return logarithmic("Frequency in Hz", hertz.low(), hertz.high(), theme);
    }

    /** Magnitude in ohms. */
    static ValueAxis magnitude(CurveRanges ohms, ChartTheme theme) {
        return logarithmic("|Z| in Ω", ohms.low(), ohms.high(), theme);
    }

    /** Logarithmic, labelled 20 50 100 … 20k. */
    static ValueAxis logarithmic(String label, double low, double high, ChartTheme theme) {
        return styled(new Logarithmic(label), low, high, theme);
    }

    /** Linear in degrees. */
    static ValueAxis degrees(String label, double low, double high, ChartTheme theme) {
        return styled(new Linear(label, Ticks::degrees), low, high, theme);
    }

    /** Linear in any unit. */
    static ValueAxis linear(String label, double low, double high, ChartTheme theme) {
        return styled(new Linear(label, Ticks::linear), low, high, theme);
    }

    private static ValueAxis styled(ValueAxis axis, double low, double high, ChartTheme theme) {
        axis.setRange(low, high);
        axis.setLabelFont(TextPainter.plain(LABEL_SIZE));
        axis.setTickLabelFont(TextPainter.plain(LABEL_SIZE));
        axis.setLabelPaint(theme.ink());
        axis.setTickLabelPaint(theme.ink());
        axis.setTickMarkPaint(theme.frame());
        axis.setAxisLinePaint(theme.frame());
        axis.setTickMarkStroke(new BasicStroke(1f));
        axis.setTickMarkOutsideLength(4f);
        axis.setMinorTickMarkOutsideLength(0f);
        axis.setTickLabelInsets(new RectangleInsets(3, 4, 3, 4));
        axis.setLabelInsets(new RectangleInsets(3, 3, 3, 3));
        return axis;
    }

    private static List<NumberTick> ticks(List<Double> values, DoubleFunction<String> words, RectangleEdge edge) {
        TextAnchor anchor = RectangleEdge.isTopOrBottom(edge) ? TextAnchor.TOP_CENTER : TextAnchor.CENTER_RIGHT;
        List<NumberTick> ticks = new ArrayList<>();
        for (double value : values) {
            ticks.add(new NumberTick(TickType.MAJOR, value, words.apply(value), anchor, TextAnchor.CENTER, 0));
        }
        return ticks;
    }

    private static int most(Rectangle2D area, RectangleEdge edge) {
        double length = RectangleEdge.isTopOrBottom(edge) ? area.getWidth() / 2 : area.getHeight();
        return (int) Math.max(3, length / UNITS_PER_LABEL);
    }

    private static final class Logarithmic extends LogAxis {
        private static final long serialVersionUID = 1L;

        Logarithmic(String label) {
            super(label);
        }

        @Override
        public List<NumberTick> refreshTicks(Graphics2D g, AxisState state, Rectangle2D area, RectangleEdge edge) {
            double low = getRange().getLowerBound();
            double high = getRange().getUpperBound();
            List<NumberTick> all = ticks(Ticks.logarithmic(low, high, most(area, edge)), Ticks::engineering, edge);
            for (double value : Ticks.between(low, high)) {
                boolean labelled = all.stream().anyMatch(t -> Math.abs(t.getValue() / value - 1) < 1e-9);
                if (!labelled) {
                    all.add(new NumberTick(TickType.MINOR, value, "", TextAnchor.CENTER, TextAnchor.CENTER, 0));
                }
            }
            return all;
        }
    }

    private interface Choice {
        List<Double> of(double low, double high, int most);
    }

    private static final class Linear extends NumberAxis {
        private static final long serialVersionUID = 1L;
        private final transient Choice choice;

        Linear(String label, Choice choice) {
            super(label);
            this.choice = choice;
            setAutoRangeIncludesZero(false);
        }

        @Override
        public List<NumberTick> refreshTicks(Graphics2D g, AxisState state, Rectangle2D area, RectangleEdge edge) {
            double low = getRange().getLowerBound();
            double high = getRange().getUpperBound();
            int most = Math.min(7, most(area, edge));
            return ticks(choice.of(low, high, most), Ticks::plain, edge);
        }
    }
}
