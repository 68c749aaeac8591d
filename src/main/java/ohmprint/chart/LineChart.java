package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.renderer.xy.XYErrorRenderer;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;
import org.jfree.data.xy.YIntervalSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;

/**
 * The straight-line picture: small plots, one per band, of 1/D against load admittance. Takes that agree lie on the lines.
 * With D the transfer function of a take, {@code 1/D = a + b·y} over the load admittance y, normalised here to
 * {@code a = 1}, so that the slope is the source impedance: {@code 1 + Z·y}.
 */
public final class LineChart extends StandaloneChart {
    /** Most bands of one picture. */
    public static final int MOST_BANDS = 6;

    /** Marks of real parts. */
    static final Shape ROUND = new Ellipse2D.Double(-3.5, -3.5, 7, 7);

    /** Marks of imaginary parts. */
    static final Shape SQUARE = new Rectangle2D.Double(-3.2, -3.2, 6.4, 6.4);

    private static final String WHAT = "1/D against load admittance: takes that agree lie on the lines";
    private static final double TOP = 104;
    private static final double BOTTOM = 716;
    private static final double GAP = 22;
    private static final double KEY_Y = 86;
    private static final double KEY_GAP = 28;

    private static final BasicStroke REAL = Plot.full(1.8f);
    private static final BasicStroke IMAGINARY = Plot.dashed(1.8f, 7f, 4f);
    private static final BasicStroke RING_LINE = new BasicStroke(1.6f);
    private static final Shape RING = new Ellipse2D.Double(-8, -8, 16, 16);

    private final List<Band> bands;

    private LineChart(Data data, ChartTheme theme) {
        super(theme, data.label() + ": do the takes agree?", data.label(), WHAT);
        this.bands = data.bands();
    }

    /** The picture of some bands. */
    public static LineChart of(Data data, ChartTheme theme) {
        return new LineChart(data, theme);
    }

    /** One band by itself, as a small picture that stands beside others. */
    public static Chart ofBand(Band band, ChartTheme theme) {
        return new OneBand(band, theme);
    }

    /**
     * What the picture shows.
     *
     * @param label what was measured
     * @param bands one to six bands, in the order of drawing
     */
    public record Data(String label, List<Band> bands) {
        /**
         * Copies the list.
         *
         * @throws IllegalArgumentException for no band, or more than six
         */
        public Data {
            bands = List.copyOf(bands);
            if (bands.isEmpty() || bands.size() > MOST_BANDS) {
                throw new IllegalArgumentException("a straight-line picture holds 1 to " + MOST_BANDS + " bands, not "
                        + bands.size() + "; choose some");
            }
        }
    }

    /**
     * One band.
     *
     * @param frequencyHz midband in hertz
     * @param resistanceOhm fitted R in ohms: slope of the real part
     * @param reactanceOhm fitted X in ohms: slope of the imaginary part
     * @param points one point per take
     */
    public record Band(double frequencyHz, double resistanceOhm, double reactanceOhm, List<Point> points) {
        /**
         * Copies the list.
         *
         * @throws IllegalArgumentException without points
         */
        public Band {
            points = List.copyOf(points);
            if (points.isEmpty()) {
                throw new IllegalArgumentException(
                        "the band at " + frequencyHz + " Hz has no point; leave the band out");
            }
        }
    }

    /**
     * One take in one band.
     *
     * @param load the load in words, for example {@code 150 Ω} or {@code open}
     * @param admittanceMilliSiemens real part of the load admittance, input included, in millisiemens
     * @param real real part of normalised 1/D
     * @param imaginary imaginary part of normalised 1/D
     * @param u95 95 % expanded uncertainty of each part; zero or NaN for none
     * @param outlying true for a take that does not fit the others
     */
    public record Point(
            String load, double admittanceMilliSiemens, double real, double imaginary, double u95, boolean outlying) {}

    @Override
    void body(Graphics2D g) {
        key(g, theme, bands, MARGIN, KEY_Y);
        int columns = bands.size() == 4 ? 2 : Math.min(3, bands.size());
        int rows = (bands.size() + columns - 1) / columns;
        double width = (WIDTH - 2 * MARGIN - (columns - 1) * GAP) / columns;
        double height = (BOTTOM - TOP - (rows - 1) * GAP) / rows;
        for (int i = 0; i < bands.size(); i++) {
            double x = MARGIN + (i % columns) * (width + GAP);
            int row = i / columns;
            double y = TOP + row * (height + GAP);
            new Panel(bands.get(i), theme).draw(g, new Rectangle2D.Double(x, y, width, height));
        }
        TextPainter.line(
                g,
                TextPainter.SMALL,
                theme.mutedInk(),
                "D is what a take holds of the source, scaled so that the lines start at 1 and 0; the slopes are R and X."
                        + " Bars: 95 % of the noise.",
                MARGIN,
                744);
    }

    /** Which line is which, and what a ring says. */
    private static void key(Graphics2D g, ChartTheme theme, List<Band> bands, double x, double y) {
        KeyRow row = new KeyRow(g, theme, x, y, KEY_GAP);
        entry(g, row, y, theme.first(), REAL, ROUND, "real part, line 1 + R·y");
        entry(g, row, y, theme.second(), IMAGINARY, SQUARE, "imaginary part, line X·y");
        if (bands.stream().anyMatch(b -> b.points().stream().anyMatch(Point::outlying))) {
            g.setColor(theme.ink());
            g.setStroke(RING_LINE);
            g.draw(new Ellipse2D.Double(row.x(), y - 12, 16, 16));
            row.words(24, "take that does not fit the others");
        }
    }

    private static void entry(
            Graphics2D g, KeyRow row, double y, Color color, BasicStroke stroke, Shape mark, String words) {
        double x = row.x();
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x, y - 4, x + 36, y - 4));
        g.translate(x + 18, y - 4);
        g.fill(mark);
        g.translate(-x - 18, -y + 4);
        row.words(44, words);
    }

    /** One band by itself. */
    private static final class OneBand extends Chart {
        private static final int WIDTH = 680;
        private static final int HEIGHT = 440;
        private static final double MARGIN = 10;
        private static final double KEY_Y = 22;
        private static final double TOP = 36;

        private final Band band;

        OneBand(Band band, ChartTheme theme) {
            super(WIDTH, HEIGHT, theme);
            this.band = band;
        }

        @Override
        String title() {
            return WHAT;
        }

        @Override
        void content(Graphics2D g) {
            key(g, theme, List.of(band), MARGIN, KEY_Y);
            new Panel(band, theme)
                    .draw(g, new Rectangle2D.Double(MARGIN, TOP, WIDTH - 2 * MARGIN, HEIGHT - TOP - MARGIN));
        }
    }

    /** The plot of one band, with its impedance and its loads above it. */
    private static final class Panel {
        private static final Font HEAD = TextPainter.plain(13);
        private static final Font SMALL = TextPainter.plain(11);
        private static final double HEAD_HEIGHT = 20;
        private static final double LABEL_LEADING = 14;
        private static final double LABEL_SPACE = 8;
        private static final int MOST_LABEL_ROWS = 3;
        /** Free space around what is in the plot, as a share of it. */
        private static final double ROOM = 0.07;

        private final Band band;
        private final ChartTheme theme;

        Panel(Band band, ChartTheme theme) {
            this.band = band;
            this.theme = theme;
        }

        void draw(Graphics2D g, Rectangle2D area) {
            g.setColor(theme.ink());
            g.setFont(HEAD);
            g.drawString(
                    TextPainter.oneLine(heading(), HEAD, area.getWidth()),
                    (float) area.getX() + 4,
                    (float) area.getY() + 13);

            double widest = band.points().stream()
                    .mapToDouble(Point::admittanceMilliSiemens)
                    .max()
                    .orElseThrow();
            double room = widest > 0 ? widest * ROOM : 1;
            ValueAxis admittance = Axes.linear("y in mS", -room, Math.max(widest, 0) + room, theme);
            double top = area.getY() + HEAD_HEIGHT + MOST_LABEL_ROWS * LABEL_LEADING;
            Rectangle2D below = new Rectangle2D.Double(area.getX(), top, area.getWidth(), area.getMaxY() - top);
            loads(g, admittance, plot(admittance).draw(g, below), area);
        }

        private String heading() {
            String sign = band.reactanceOhm() < 0 ? " − j" : " + j";
            double hz = band.frequencyHz();
            String frequency = hz < 1000 ? Ticks.threeDigits(hz) + " Hz" : Ticks.threeDigits(hz / 1000) + " kHz";
            return frequency + ": Z = " + Ticks.threeDigits(band.resistanceOhm()) + sign
                    + Ticks.threeDigits(Math.abs(band.reactanceOhm())) + " Ω";
        }

        private Plot plot(ValueAxis admittance) {
            double low = Math.min(0, Math.min(least(Point::real), least(Point::imaginary)));
            double high = Math.max(1, Math.max(most(Point::real), most(Point::imaginary)));
            double room = (high - low) * ROOM;
            Plot plot = new Plot(admittance, Axes.linear("1/D", low - room, high + room, theme), theme);
            rings(plot);
            points(plot, Point::imaginary, theme.second(), SQUARE);
            points(plot, Point::real, theme.first(), ROUND);
            double end = admittance.getUpperBound();
            plot.lines(line(end, 0, band.reactanceOhm()), theme.second(), IMAGINARY);
            plot.lines(line(end, 1, band.resistanceOhm()), theme.first(), REAL);
            return plot;
        }

        /** The fitted line from y = 0: intercept and slope (ohms) against millisiemens. */
        private static XYSeriesCollection line(double end, double intercept, double ohms) {
            XYSeries line = new XYSeries("line");
            line.add(0, intercept);
            line.add(end, intercept + ohms * end / 1000);
            return new XYSeriesCollection(line);
        }

        private void points(Plot plot, ToDoubleFunction<Point> part, Color color, Shape marker) {
            YIntervalSeries series = new YIntervalSeries("takes");
            for (Point p : band.points()) {
                double y = part.applyAsDouble(p);
                double half = p.u95() > 0 ? p.u95() : 0;
                series.add(p.admittanceMilliSiemens(), y, y - half, y + half);
            }
            YIntervalSeriesCollection points = new YIntervalSeriesCollection();
            points.addSeries(series);
            XYErrorRenderer bars = new XYErrorRenderer();
            bars.setDrawXError(false);
            bars.setErrorStroke(new BasicStroke(1.2f));
            bars.setCapLength(5);
            plot.add(points, bars, color, Plot.full(1f), marker);
        }

        private void rings(Plot plot) {
            XYSeries ringed = new XYSeries("outlying");
            for (Point p : band.points()) {
                if (p.outlying()) {
                    ringed.add(p.admittanceMilliSiemens(), p.real());
                    ringed.add(p.admittanceMilliSiemens(), p.imaginary());
                }
            }
            plot.marks(ringed, theme.ink(), RING_LINE, RING, false);
        }

        private double least(ToDoubleFunction<Point> part) {
            return band.points().stream()
                    .mapToDouble(p -> part.applyAsDouble(p) - Math.max(0, Double.isNaN(p.u95()) ? 0 : p.u95()))
                    .min()
                    .orElseThrow();
        }

        private double most(ToDoubleFunction<Point> part) {
            return band.points().stream()
                    .mapToDouble(p -> part.applyAsDouble(p) + Math.max(0, Double.isNaN(p.u95()) ? 0 : p.u95()))
                    .max()
                    .orElseThrow();
        }

        /** Names of the loads above the frame, at their admittance, in as many rows as keep them apart. */
        private void loads(Graphics2D g, ValueAxis axis, Rectangle2D frame, Rectangle2D area) {
            double[] taken = new double[MOST_LABEL_ROWS];
            Arrays.fill(taken, area.getX());
            g.setFont(SMALL);
            for (Label label : labels()) {
                double x = axis.valueToJava2D(label.admittance(), frame, RectangleEdge.BOTTOM);
                double width = TextPainter.width(label.text(), SMALL);
                double left = Math.min(Math.max(area.getX(), x - width / 2), area.getMaxX() - width);
                for (int row = 0; row < MOST_LABEL_ROWS; row++) {
                    if (left >= taken[row]) {
                        double y = frame.getY() - 6 - row * LABEL_LEADING;
                        g.setColor(theme.frame());
                        g.setStroke(new BasicStroke(1f));
                        g.draw(new Line2D.Double(x, frame.getY() - 4, x, frame.getY()));
                        g.setColor(theme.ink());
                        g.drawString(label.text(), (float) left, (float) y);
                        taken[row] = left + width + LABEL_SPACE;
                        break;
                    }
                }
            }
        }

        /** Loads in ascending admittance; takes of the same load share a label. */
        private List<Label> labels() {
            Map<String, Integer> count = new LinkedHashMap<>();
            Map<String, Point> first = new LinkedHashMap<>();
            List<Point> sorted = new ArrayList<>(band.points());
            sorted.sort(Comparator.comparingDouble(Point::admittanceMilliSiemens));
            for (Point p : sorted) {
                count.merge(p.load(), 1, Integer::sum);
                first.putIfAbsent(p.load(), p);
            }
            List<Label> labels = new ArrayList<>();
            first.forEach((load, p) -> {
                int n = count.getOrDefault(load, 1);
                labels.add(new Label(
                        TextPainter.oneLine(n > 1 ? load + " ×" + n : load, SMALL, 120), p.admittanceMilliSiemens()));
            });
            return labels;
        }

        private record Label(String text, double admittance) {}
    }
}
