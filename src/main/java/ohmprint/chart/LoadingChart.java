package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.PredictedValue;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.data.xy.YIntervalSeriesCollection;

/**
 * What loads take from a microphone: level re open circuit above, response change re 1 kHz beneath, a line for each load,
 * its name at its end.
 *
 * <p>Loads in order run from the colour of what is wrong, the lowest, to that of the first curve; others take the Okabe–Ito
 * colours in turn, each round with another dash, so that nothing hangs on colour.
 */
public final class LoadingChart extends StandaloneChart {
    /** Most lines of one picture. */
    public static final int MOST_LINES = 10;

    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, 704, 594);
    private static final Rectangle2D PANEL = new Rectangle2D.Double(880, 78, WIDTH - 880 - MARGIN, 656);
    private static final double LABEL_ROOM = 152;
    private static final double NAME_ROOM = LABEL_ROOM - 18;
    private static final double LABEL_LEADING = 14;
    private static final double CAPTION_Y = 700;
    private static final double SWATCH = 30;
    private static final int MOST_LINES_EACH = 3;
    private static final int MOST_WITH_LONG_NAMES = 7;

    private static final float STROKE = 1.9f;
    private static final float BAND_ALPHA = 0.16f;
    private static final Shape MARK = new Ellipse2D.Double(-2.5, -2.5, 5, 5);

    /** Finer grids have no marks at their bands. */
    private static final int COARSE_FRACTION = 3;

    private static final List<float[]> DASHES =
            List.of(new float[] {}, new float[] {9f, 4f}, new float[] {2.5f, 4f}, new float[] {10f, 3f, 2.5f, 3f});

    private final Data data;
    private final List<String> names;

    private LoadingChart(Data data, ChartTheme theme) {
        super(theme, data.label() + ": " + data.heading(), data.label(), data.heading());
        this.data = data;
        this.names = names(data.lines());
    }

    /** The picture of some loads. */
    public static LoadingChart of(Data data, ChartTheme theme) {
        return new LoadingChart(data, theme);
    }

    /**
     * What the picture shows.
     *
     * @param label what was measured
     * @param heading what the lines are
     * @param bands the grid of the whole curve
     * @param ordered true for one load that varies, false for loads that have nothing to do with each other
     * @param lines one to {@value #MOST_LINES} loads
     * @param facts what there is to say beside the plots
     * @param caption what there is to say beneath them
     */
    public record Data(
            String label,
            String heading,
            FrequencyBands bands,
            boolean ordered,
            List<Line> lines,
            List<Fact> facts,
            String caption) {
        /**
         * Copies the lists.
         *
         * @throws IllegalArgumentException for no line, or too many
         */
        public Data {
            lines = List.copyOf(lines);
            facts = List.copyOf(facts);
            if (lines.isEmpty() || lines.size() > MOST_LINES) {
                throw new IllegalArgumentException("a picture of loads holds 1 to " + MOST_LINES + " lines, not "
                        + lines.size() + "; choose some");
            }
        }
    }

    /**
     * One load.
     *
     * @param name what it is called
     * @param words what to say of it, on one line
     * @param losses loss per band in decibels, positive when voltage is lost; nothing for a gap
     * @param changes response change re 1 kHz per band in decibels, of the same bands
     */
    public record Line(String name, String words, List<PredictedValue> losses, List<PredictedValue> changes) {
        /** Copies the lists. */
        public Line {
            losses = List.copyOf(losses);
            changes = List.copyOf(changes);
        }
    }

    /**
     * One thing to say.
     *
     * @param head what it is about
     * @param words the thing
     */
    public record Fact(String head, String words) {}

    /** Names as they are, or numbered where one is too long for the margin, since the shortened ones may be alike. */
    private static List<String> names(List<Line> lines) {
        List<String> names = lines.stream().map(Line::name).toList();
        if (names.stream().allMatch(name -> TextPainter.width(name, TextPainter.SMALL) <= NAME_ROOM)) {
            return names;
        }
        return IntStream.range(0, names.size())
                .mapToObj(i -> (i + 1) + " · " + names.get(i))
                .toList();
    }

    @Override
    void body(Graphics2D g) {
        plots(g);
        caption(g, data.caption(), PLOTS.getMaxX() + LABEL_ROOM - INDENT, 3, CAPTION_Y);
        panel(g, new TextColumn(g, PANEL, theme));
    }

    private void plots(Graphics2D g) {
        List<List<List<PredictedValue>>> sets = new ArrayList<>();
        sets.add(data.lines().stream().map(l -> asLevels(l.losses())).toList());
        List<List<PredictedValue>> changes =
                data.lines().stream().map(Line::changes).toList();
        if (changes.stream().flatMap(List::stream).anyMatch(p -> p.isValue() || p.isBounded())) {
            sets.add(changes);
        }
        List<Plot> plots = new ArrayList<>();
        for (List<List<PredictedValue>> lines : sets) {
            plots.add(plot(lines, plots.isEmpty() ? "Level in dB re open circuit" : "Change in dB re 1 kHz"));
        }
        ValueAxis frequency = Axes.frequency(CurveRanges.hertz(data.bands()), theme);
        List<Rectangle2D> frames = Plot.stacked(g, PLOTS, frequency, plots, theme);
        for (int i = 0; i < plots.size(); i++) {
            labels(g, sets.get(i), plots.get(i), frames.get(i), frequency);
        }
    }

    /** The first line lies above the others. */
    private Plot plot(List<List<PredictedValue>> lines, String label) {
        CurveRanges db = decibels(lines);
        Plot plot = new Plot(null, Axes.linear(label, db.low(), db.high(), theme), theme);
        Shape mark = data.bands().fraction() <= COARSE_FRACTION ? MARK : null;
        for (int i = lines.size() - 1; i >= 0; i--) {
            plot.banded(runs(lines.get(i)), color(i), stroke(i), BAND_ALPHA, mark);
        }
        for (int i = 0; i < lines.size(); i++) {
            bounds(plot, lines.get(i), db, color(i));
        }
        return plot;
    }

    private static YIntervalSeriesCollection runs(List<PredictedValue> values) {
        CurveSegments runs = new CurveSegments();
        double half = Math.pow(FrequencyBands.OCTAVE_RATIO, 1 / 48.0);
        for (PredictedValue p : values) {
            if (p.isValue()) {
                double u = p.u95() > 0 ? p.u95() : 0;
                runs.add(p.hz(), p.hz() / half, p.hz() * half, p.value(), p.value() - u, p.value() + u);
            } else {
                runs.gap();
            }
        }
        return runs.lines();
    }

    /** Bounds reach from edge to edge of their band; what lies outside the axis is cut off by the frame. */
    private void bounds(Plot plot, List<PredictedValue> line, CurveRanges db, Color color) {
        double beyond = db.high() - db.low();
        double half = Math.pow(10, 0.15 / data.bands().fraction());
        for (PredictedValue p : line) {
            if (p.isBounded()) {
                plot.box(
                        p.hz() / half,
                        p.hz() * half,
                        Math.max(p.low(), db.low() - beyond),
                        Math.min(p.high(), db.high() + beyond),
                        new BasicStroke(1f),
                        color,
                        ChartTheme.shade(color));
            }
        }
    }

    /** The name of each line beside its last value, moved apart where lines end close together. */
    private void labels(
            Graphics2D g, List<List<PredictedValue>> lines, Plot plot, Rectangle2D area, ValueAxis frequency) {
        double[] wanted = new double[lines.size()];
        double[] ends = new double[lines.size()];
        for (int i = 0; i < lines.size(); i++) {
            PredictedValue last = last(lines.get(i));
            double value = last.isValue() ? last.value() : (last.least() + last.most()) / 2;
            double at = Math.min(
                    Math.max(value, plot.range().getLowerBound()), plot.range().getUpperBound());
            wanted[i] = Double.isFinite(value) ? plot.range().valueToJava2D(at, area, RectangleEdge.LEFT) : Double.NaN;
            ends[i] = frequency.valueToJava2D(last.hz(), area, RectangleEdge.BOTTOM);
        }
        double[] placed = apart(wanted, LABEL_LEADING, area.getY() + 4, area.getMaxY() - 2);
        for (int i = 0; i < lines.size(); i++) {
            if (!Double.isNaN(wanted[i])) {
                double x = area.getMaxX();
                g.setColor(color(i));
                g.setStroke(new BasicStroke(0.8f));
                g.draw(new Line2D.Double(Math.min(ends[i] + 2, x + 2), wanted[i], x + 4, wanted[i]));
                g.draw(new Line2D.Double(x + 4, wanted[i], x + 14, placed[i]));
                String name = TextPainter.oneLine(names.get(i), TextPainter.SMALL, NAME_ROOM);
                TextPainter.line(g, TextPainter.SMALL, theme.ink(), name, x + 17, placed[i] + 4);
            }
        }
    }

    /** The last band that says something; the first one where none does. */
    private static PredictedValue last(List<PredictedValue> line) {
        for (int i = line.size() - 1; i >= 0; i--) {
            if (line.get(i).isValue() || line.get(i).isBounded()) {
                return line.get(i);
            }
        }
        return line.get(0);
    }

    /**
     * Places in the order of the wanted ones, at least so far apart, within a range as far as they fit. Not-a-number stays.
     *
     * @param wanted where labels belong
     * @param apart least distance
     * @param low least place
     * @param high greatest place
     */
    private static double[] apart(double[] wanted, double apart, double low, double high) {
        int[] order = IntStream.range(0, wanted.length)
                .filter(i -> !Double.isNaN(wanted[i]))
                .boxed()
                .sorted((a, b) -> Double.compare(wanted[a], wanted[b]))
                .mapToInt(i -> i)
                .toArray();
        double[] placed = Arrays.copyOf(wanted, wanted.length);
        double least = low;
        for (int i : order) {
            placed[i] = Math.max(wanted[i], least);
            least = placed[i] + apart;
        }
        double most = high;
        for (int k = order.length - 1; k >= 0; k--) {
            int i = order[k];
            placed[i] = Math.min(placed[i], most);
            most = placed[i] - apart;
        }
        return placed;
    }

    /** The value upside down: what a loss is as a level. */
    private static List<PredictedValue> asLevels(List<PredictedValue> losses) {
        return losses.stream()
                .map(p -> new PredictedValue(-p.value(), p.u95(), -p.high(), -p.low(), p.hz()))
                .toList();
    }

    /** Decibels that an axis must hold: all values and finite bounds, at least one decibel in all. */
    private static CurveRanges decibels(List<List<PredictedValue>> all) {
        double low = 0;
        double high = 0;
        for (List<PredictedValue> values : all) {
            for (PredictedValue p : values) {
                low = Double.isFinite(p.least()) ? Math.min(low, p.least()) : low;
                high = Double.isFinite(p.most()) ? Math.max(high, p.most()) : high;
            }
        }
        double missing = Math.max(0, 1 - (high - low)) / 2;
        double margin = 0.06 * Math.max(1, high - low);
        return new CurveRanges(low - missing - margin, high + missing + margin);
    }

    /** Facts, then the key with a line for each load. */
    private void panel(Graphics2D g, TextColumn column) {
        data.facts().forEach(fact -> column.paragraph(fact.head(), fact.words(), MOST_LINES_EACH));
        column.head(data.ordered() ? "Load" : "Inputs");
        column.space(1);
        double left = column.x() + SWATCH + 8;
        double room = column.room() - SWATCH - 8;
        int nameLines = data.lines().size() <= MOST_WITH_LONG_NAMES ? 2 : 1;
        for (int i = 0; i < data.lines().size(); i++) {
            g.setColor(color(i));
            g.setStroke(stroke(i));
            g.draw(new Line2D.Double(column.x(), column.y() - 4, column.x() + SWATCH, column.y() - 4));
            for (String name : TextPainter.wrap(names.get(i), TextColumn.STRONG, room, nameLines)) {
                TextPainter.line(g, TextColumn.STRONG, theme.ink(), name, left, column.y());
                column.space(TextColumn.LEADING - 1);
            }
            String words = TextPainter.oneLine(data.lines().get(i).words(), TextColumn.BODY, room);
            TextPainter.line(g, TextColumn.BODY, theme.ink(), words, left, column.y());
            column.space(TextColumn.LEADING + 2);
        }
    }

    private Color color(int line) {
        int count = data.lines().size();
        return data.ordered()
                ? between(theme.second(), theme.first(), count == 1 ? 1 : line / (count - 1.0))
                : theme.series(line);
    }

    private BasicStroke stroke(int line) {
        return Plot.dashed(STROKE, data.ordered() ? DASHES.get(0) : DASHES.get(line % DASHES.size()));
    }

    private static Color between(Color a, Color b, double share) {
        return new Color(
                mix(a.getRed(), b.getRed(), share),
                mix(a.getGreen(), b.getGreen(), share),
                mix(a.getBlue(), b.getBlue(), share));
    }

    private static int mix(int a, int b, double share) {
        return (int) Math.round(a + (b - a) * share);
    }
}
