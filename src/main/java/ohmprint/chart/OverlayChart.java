package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.ImpedanceCurve;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;
import org.jspecify.annotations.Nullable;

/**
 * |Z| of several curves over frequency, and beneath it by how much each differs from the first, in percent; or thin lines
 * with the range that they span.
 */
public final class OverlayChart extends StandaloneChart {
    private static final double ROOM = WIDTH - INDENT - MARGIN;
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, WIDTH - 14 - MARGIN, 556);
    private static final double KEY_Y = 656;
    private static final double CAPTION_Y = 722;
    private static final int PLOTS_ON_PAGE = 430;

    private static final int KEY_COLUMNS = 3;
    private static final double KEY_LEADING = 20;
    /** What the piece of a line and the gap to the next column take of an entry. */
    private static final double BESIDE_WORDS = 60;

    private static final int NAME_LINES = 2;
    /** More do not fit into the lines, however short they are. */
    private static final int MOST_NAMES = 60;

    /** Full, dashed, dotted, dash and dot, and so on: lines told apart without colour; after six they begin again. */
    private static final List<float[]> DASHES = List.of(
            new float[] {},
            new float[] {9f, 5f},
            new float[] {2f, 4f},
            new float[] {9f, 4f, 2f, 4f},
            new float[] {16f, 5f},
            new float[] {5f, 3f});

    private static final BasicStroke MEDIAN = Plot.full(2f);
    private static final BasicStroke SINGLE = Plot.full(0.7f);
    private static final float BAND_ALPHA = 0.18f;
    private static final Shape MARK = new Ellipse2D.Double(-2.5, -2.5, 5, 5);
    /** Opacity of the single curves behind a range, of 255: there to be seen, not to compete with the middle. */
    private static final int FAINT = 170;

    /** Points further apart than an octave are not joined. */
    private static final double WIDEST_STEP = 2.05;

    private static final double LEAST_PERCENT = 2;
    private static final double MOST_PERCENT = 400;
    /** Free space around the differences, as a share of their range. */
    private static final double FREE = 0.06;

    private final Data data;

    private OverlayChart(Data data, ChartTheme theme) {
        super(theme, data.title(), data.title(), data.subtitle());
        this.data = data;
    }

    /** The picture of some curves, at least one. */
    public static OverlayChart of(Data data, ChartTheme theme) {
        if (data.curves().isEmpty()) {
            throw new IllegalArgumentException("a picture of curves needs one curve or more; give some");
        }
        return new OverlayChart(data, theme);
    }

    /**
     * Curves to be laid over each other.
     *
     * @param title heading
     * @param subtitle what the ohms are
     * @param curves the curves in their order
     * @param range a range of |Z| in ohms with its middle, before which the curves step back as thin lines; null for none
     * @param caption what has to be said below
     */
    public record Data(
            String title,
            String subtitle,
            List<Curve> curves,
            @Nullable List<Point> range,
            String caption) {
        /** Copies the lists. */
        public Data {
            curves = List.copyOf(curves);
            range = range == null ? null : List.copyOf(range);
        }
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

    /** The plots and the names of the curves alone, smaller, for a page that says the rest in its own words. */
    public Chart forPage() {
        int names = (int) (KEY_LEADING * data.curves().size());
        return new OnPage(PLOTS_ON_PAGE + names) {
            @Override
            void content(Graphics2D g) {
                plots(g, new Rectangle2D.Double(0, 0, PLOTS_WIDTH, PLOTS_ON_PAGE - 10));
                for (int i = 0; i < data.curves().size(); i++) {
                    double y = PLOTS_ON_PAGE + 10 + i * KEY_LEADING;
                    keyOf(g, i, i == 0 ? " (compared with)" : "", KEY_X, y, width() - KEY_X);
                }
            }
        };
    }

    @Override
    void body(Graphics2D g) {
        plots(g, PLOTS);
        if (data.range() == null) {
            keyOfCurves(g, ROOM / KEY_COLUMNS);
        } else {
            keyOfRange(g, ROOM / KEY_COLUMNS);
        }
        caption(g, data.caption(), ROOM, 2, CAPTION_Y);
    }

    private void plots(Graphics2D g, Rectangle2D area) {
        List<Plot> plots = new ArrayList<>();
        plots.add(magnitudes());
        CurveRanges percent = percent();
        if (percent != null) {
            plots.add(differences(percent));
        }
        CurveRanges hertz = data.curves().stream()
                .map(c -> CurveRanges.hertz(c.curve().bands()))
                .reduce(CurveRanges::and)
                .orElseThrow();
        Plot.stacked(g, area, Axes.frequency(hertz, theme), plots, theme);
    }

    private Plot magnitudes() {
        CurveRanges ohms = data.curves().stream()
                .map(c -> CurveRanges.ohms(c.curve()))
                .reduce(CurveRanges::and)
                .orElseThrow();
        Plot plot = new Plot(null, Axes.magnitude(ohms, theme), theme);
        List<Point> range = data.range();
        for (int i = 0; i < data.curves().size(); i++) {
            YIntervalSeriesCollection lines =
                    CurveSegments.magnitude(data.curves().get(i).curve(), ohms);
            if (range == null) {
                plot.banded(lines, theme.series(i), stroke(i), BAND_ALPHA, null);
            } else {
                plot.lines(lines, faint(), SINGLE);
            }
        }
        if (range != null) {
            plot.banded(runs(range), theme.first(), MEDIAN, BAND_ALPHA, null);
        }
        return plot;
    }

    private Plot differences(CurveRanges percent) {
        Plot plot = new Plot(null, Axes.linear("Difference in %", percent.low(), percent.high(), theme), theme);
        plot.level(0);
        for (int i = 1; i < data.curves().size(); i++) {
            List<Point> difference = data.curves().get(i).difference();
            plot.banded(runs(difference), theme.series(i), stroke(i), BAND_ALPHA, null);
            XYSeries marked = new XYSeries("marked");
            difference.stream().filter(Point::marked).forEach(p -> marked.add(p.hz(), p.value()));
            plot.marks(marked, theme.series(i), Plot.full(1f), MARK, true);
        }
        return plot;
    }

    /** Points as lines, broken where neighbours are far apart. */
    private static YIntervalSeriesCollection runs(List<Point> points) {
        CurveSegments runs = new CurveSegments();
        double last = Double.NaN;
        for (Point p : points) {
            if (p.hz() > last * WIDEST_STEP) {
                runs.gap();
            }
            runs.add(p.hz(), p.hz(), p.hz(), p.value(), p.low(), p.high());
            last = p.hz();
        }
        return runs.lines();
    }

    /**
     * Percent: all differences and zero, with their range as far as it is not much wider than the differences themselves; null
     * when there are none.
     */
    private @Nullable CurveRanges percent() {
        double least = 0;
        double most = 0;
        double widest = LEAST_PERCENT;
        boolean any = false;
        for (Curve curve : data.curves()) {
            for (Point p : curve.difference()) {
                any = true;
                widest = Math.max(widest, Math.abs(p.value()));
                least = Math.min(least, p.value());
                most = Math.max(most, p.value());
            }
        }
        if (!any) {
            return null;
        }
        for (Curve curve : data.curves()) {
            for (Point p : curve.difference()) {
                least = Math.min(least, Math.max(p.low(), p.value() - widest));
                most = Math.max(most, Math.min(p.high(), p.value() + widest));
            }
        }
        most = Math.min(most, MOST_PERCENT);
        double room = Math.max(most - least, LEAST_PERCENT) * FREE;
        return new CurveRanges(least - room, most + room);
    }

    private static BasicStroke stroke(int i) {
        return Plot.dashed(2f, DASHES.get(i % DASHES.size()));
    }

    private Color faint() {
        Color ink = theme.mutedInk();
        return new Color(ink.getRed(), ink.getGreen(), ink.getBlue(), FAINT);
    }

    /** Which line is which, in columns. */
    private void keyOfCurves(Graphics2D g, double width) {
        for (int i = 0; i < data.curves().size(); i++) {
            double x = INDENT + (i % KEY_COLUMNS) * width;
            int row = i / KEY_COLUMNS;
            boolean marked = data.curves().get(i).difference().stream().anyMatch(Point::marked);
            String found = i == 0 ? " (compared with)" : marked ? " (● differs)" : " (no significant difference)";
            keyOf(g, i, found, x, KEY_Y + row * KEY_LEADING, width);
        }
    }

    private void keyOf(Graphics2D g, int i, String found, double x, double y, double width) {
        String words =
                TextPainter.oneLine(data.curves().get(i).label() + found, TextPainter.SMALL, width - BESIDE_WORDS);
        new KeyRow(g, theme, x, y, 0).line(theme.series(i), stroke(i), true, words);
    }

    /** What the range and the thin lines are. */
    private void keyOfRange(Graphics2D g, double column) {
        new KeyRow(g, theme, INDENT, KEY_Y, 0).line(theme.first(), MEDIAN, true, "median, 5 % to 95 % range");
        new KeyRow(g, theme, INDENT + column, KEY_Y, 0).line(faint(), SINGLE, false, "single units:");
        TextPainter.lines(g, theme.ink(), units(ROOM), INDENT, KEY_Y + KEY_LEADING);
    }

    /** Names of the curves in two lines at most; those that find no room are counted. */
    private List<String> units(double room) {
        List<String> labels = data.curves().stream().map(Curve::label).toList();
        int shown = Math.min(labels.size(), MOST_NAMES);
        List<String> lines = TextPainter.wrap(some(labels, shown), TextPainter.SMALL, room, NAME_LINES + 1);
        while (lines.size() > NAME_LINES && shown > 1) {
            shown--;
            lines = TextPainter.wrap(some(labels, shown), TextPainter.SMALL, room, NAME_LINES + 1);
        }
        return lines.subList(0, Math.min(lines.size(), NAME_LINES));
    }

    private static String some(List<String> labels, int shown) {
        int rest = labels.size() - shown;
        return String.join(", ", labels.subList(0, shown)) + (rest > 0 ? " and " + rest + " more" : "");
    }
}
