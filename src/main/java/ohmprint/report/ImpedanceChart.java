package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.spec.Specification;
import ohmprint.spec.Verdict;
import org.jfree.chart.annotations.XYBoxAnnotation;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.DeviationRenderer;
import org.jfree.data.xy.YIntervalSeriesCollection;
import org.jspecify.annotations.Nullable;

/** |Z| and phase of one measurement over frequency, with its 95 % band, and the findings in words beside them. */
public final class ImpedanceChart implements Chart {
    private static final double MARGIN = 26;
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, 846, 594);
    private static final Rectangle2D PANEL = new Rectangle2D.Double(880, 78, Picture.WIDTH - 880 - MARGIN, 656);
    private static final double KEY_Y = 692;
    private static final double CAPTION_Y = 714;
    private static final double CAPTION_LEADING = 17;
    private static final double GAP_BETWEEN_PLOTS = 22;
    private static final Font TITLE = ChartFonts.bold(20);
    private static final Font SUBTITLE = ChartFonts.plain(14);
    private static final Font SMALL = ChartFonts.plain(12);
    private static final int COARSE_FRACTION = 3;

    private final Measurement measurement;
    private final ImpedanceCurve curve;
    private final ChartTheme theme;
    private final @Nullable SpecificationOverlay overlay;

    private ImpedanceChart(Measurement measurement, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        this.measurement = measurement;
        this.curve = measurement.curve();
        this.theme = theme;
        this.overlay = overlay;
    }

    /** The picture of a measurement; nothing is drawn yet. */
    public static ImpedanceChart of(Measurement measurement, ChartTheme theme) {
        return new ImpedanceChart(measurement, theme, null);
    }

    /** The picture of a measurement with the limits of a specification and the verdict on it; nothing is drawn yet. */
    public static ImpedanceChart checked(
            Measurement measurement, Specification specification, Verdict verdict, ChartTheme theme) {
        return new ImpedanceChart(measurement, theme, new SpecificationOverlay(specification, verdict, theme));
    }

    /** The plots and their key alone, smaller, for a page that says the rest in its own words. */
    public Chart forPage() {
        return new OnPage();
    }

    /** The plots and their key on a page. */
    private final class OnPage implements Chart {
        private static final int PAGE_WIDTH = 760;
        private static final int WITH_PHASE = 440;
        private static final int WITHOUT_PHASE = 320;
        private static final int KEY_ROOM = 34;
        /** Half of the last label of the axis. */
        private static final int RIGHT = 12;

        private final @Nullable CurveRanges degrees = CurveRanges.degrees(curve);

        @Override
        public int width() {
            return PAGE_WIDTH;
        }

        @Override
        public int height() {
            return degrees == null ? WITHOUT_PHASE : WITH_PHASE;
        }

        @Override
        public String title() {
            return ImpedanceChart.this.title();
        }

        @Override
        public void draw(Graphics2D g) {
            g.setColor(theme.ground());
            g.fill(new Rectangle2D.Double(0, 0, width(), height()));
            plots(g, degrees, new Rectangle2D.Double(0, 0, width() - RIGHT, height() - KEY_ROOM));
            key(g, degrees != null, 60, height() - 12);
        }
    }

    @Override
    public int width() {
        return Picture.WIDTH;
    }

    @Override
    public int height() {
        return Picture.HEIGHT;
    }

    @Override
    public String title() {
        return TextFit.oneLine(measurement.microphone().label() + ": " + curve.quantity(), SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        heading(g);
        CurveRanges degrees = CurveRanges.degrees(curve);
        plots(g, degrees, PLOTS);
        key(g, degrees != null, MARGIN + 48, KEY_Y);
        caption(g, degrees != null);
        new FindingsPanel(measurement, theme, overlay).draw(g, PANEL);
    }

    private void heading(Graphics2D g) {
        double room = Picture.WIDTH - 2 * MARGIN;
        g.setColor(theme.ink());
        g.setFont(TITLE);
        g.drawString(TextFit.oneLine(measurement.microphone().label(), TITLE, room), (float) MARGIN, 38);
        g.setColor(theme.mutedInk());
        g.setFont(SUBTITLE);
        String quantity = curve.quantity();
        int fraction = curve.bands().fraction();
        String grid = fraction == 1 ? "octave bands" : "1/" + fraction + "-octave bands";
        String words = Character.toUpperCase(quantity.charAt(0)) + quantity.substring(1) + ", " + grid;
        g.drawString(TextFit.oneLine(words, SUBTITLE, room), (float) MARGIN, 61);
    }

    private void plots(Graphics2D g, @Nullable CurveRanges degrees, Rectangle2D area) {
        CurveRanges hertz = CurveRanges.hertz(curve.bands());
        ValueAxis frequency = Axes.logarithmic("Frequency in Hz", hertz.low(), hertz.high(), theme);
        CombinedDomainXYPlot both = new CombinedDomainXYPlot(frequency);
        both.setGap(GAP_BETWEEN_PLOTS);
        PlotStyle.apply(both, theme);
        CurveRanges ohms = overlay == null ? CurveRanges.ohms(curve) : overlay.ohms(CurveRanges.ohms(curve));
        XYPlot magnitude = plot(
                CurveRuns.magnitude(curve, ohms),
                Axes.logarithmic("|Z| in Ω", ohms.low(), ohms.high(), theme),
                theme.first(),
                PlotStyle.line(2f));
        intervals(magnitude, ohms);
        if (overlay != null) {
            overlay.add(magnitude, ohms);
        }
        both.add(magnitude, 3);
        if (degrees != null) {
            both.add(
                    plot(
                            CurveRuns.phase(curve, degrees),
                            Axes.degrees("∠Z in °", degrees.low(), degrees.high(), theme),
                            theme.second(),
                            PlotStyle.dashed(2f)),
                    2);
        }
        both.draw(g, area, null, null, null);
    }

    private XYPlot plot(YIntervalSeriesCollection lines, ValueAxis axis, Color color, BasicStroke stroke) {
        DeviationRenderer renderer = new DeviationRenderer(true, curve.bands().fraction() <= COARSE_FRACTION);
        PlotStyle.apply(renderer, color, stroke, new Ellipse2D.Double(-3, -3, 6, 6));
        renderer.setAlpha(0.22f);
        XYPlot plot = new XYPlot(lines, null, axis, renderer);
        PlotStyle.apply(plot, theme);
        return plot;
    }

    /** Bounds reach from edge to edge of their band; what lies outside the axis is cut off by the frame. */
    private void intervals(XYPlot plot, CurveRanges ohms) {
        for (int i = 0; i < curve.values().size(); i++) {
            BandValue v = curve.values().get(i);
            if (v.status() == BandStatus.INTERVAL) {
                double low = Math.max(v.magnitudeLowOhm(), ohms.low() / 2);
                double high = v.magnitudeHighOhm() <= ohms.high() ? v.magnitudeHighOhm() : ohms.high() * 2;
                plot.addAnnotation(new XYBoxAnnotation(
                        curve.bands().lowerEdge(i),
                        low,
                        curve.bands().upperEdge(i),
                        high,
                        new BasicStroke(1.2f),
                        theme.third(),
                        ChartTheme.shade(theme.third())));
            }
        }
    }

    private void key(Graphics2D g, boolean phase, double left, double y) {
        double x = left;
        if (curve.count(BandStatus.MEASURED) > 0) {
            x = lineKey(g, x, y, theme.first(), PlotStyle.line(2f), "|Z| and 95 % band");
            if (phase) {
                x = lineKey(g, x, y, theme.second(), PlotStyle.dashed(2f), "phase and 95 % band");
            }
        }
        if (curve.count(BandStatus.INTERVAL) > 0) {
            Rectangle2D box = new Rectangle2D.Double(x, y - 11, 16, 14);
            g.setColor(ChartTheme.shade(theme.third()));
            g.fill(box);
            g.setColor(theme.third());
            g.setStroke(new BasicStroke(1.2f));
            g.draw(box);
            x = words(g, x + 24, y, "bounds on |Z|, no value") + 28;
        }
        if (overlay != null) {
            overlay.key(g, x, y);
        }
    }

    private double lineKey(Graphics2D g, double x, double y, Color color, BasicStroke stroke, String text) {
        g.setColor(ChartTheme.shade(color));
        g.fill(new Rectangle2D.Double(x, y - 11, 34, 14));
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x + 1, y - 4, x + 33, y - 4));
        return words(g, x + 42, y, text) + 28;
    }

    private double words(Graphics2D g, double x, double y, String text) {
        g.setColor(theme.ink());
        g.setFont(SMALL);
        g.drawString(text, (float) x, (float) y);
        return x + TextFit.width(text, SMALL);
    }

    private void caption(Graphics2D g, boolean phase) {
        List<String> sentences = new ArrayList<>();
        if (curve.count(BandStatus.MEASURED) > 0) {
            sentences.add(
                    "Parts of the error are common to all bands, so the curve may shift as a whole within the 95 % band.");
        }
        if (!phase) {
            sentences.add(
                    curve.count(BandStatus.MEASURED) > 0
                            ? "No phase: these takes do not determine the sign of the reactance."
                            : "No phase: no band has a value.");
        }
        if (curve.count(BandStatus.REJECTED) > 0) {
            sentences.add("Gaps are rejected bands, about which the takes say nothing.");
        }
        if (curve.values().stream().anyMatch(v -> Double.isInfinite(v.magnitudeHighOhm()))) {
            sentences.add("Bounds that meet the frame are open there.");
        }
        g.setColor(theme.mutedInk());
        g.setFont(SMALL);
        double y = CAPTION_Y;
        for (String line : TextFit.wrap(String.join(" ", sentences), SMALL, PLOTS.getMaxX() - MARGIN - 48, 3)) {
            g.drawString(line, (float) MARGIN + 48, (float) y);
            y += CAPTION_LEADING;
        }
    }
}
