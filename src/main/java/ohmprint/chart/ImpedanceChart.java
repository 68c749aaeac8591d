package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Verdict;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.data.xy.YIntervalSeriesCollection;
import org.jspecify.annotations.Nullable;

/**
 * |Z| of one measurement over frequency and, where the curve has one, its phase beneath it, each with its 95 % band; in |Z|
 * also bounds and the limits of a specification; and the findings in words beside them.
 */
public final class ImpedanceChart extends StandaloneChart {
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, 846, 594);
    private static final Rectangle2D PANEL = new Rectangle2D.Double(880, 78, WIDTH - 880 - MARGIN, 656);
    private static final double KEY_Y = 692;
    private static final double CAPTION_Y = 714;
    private static final double KEY_GAP = 28;
    private static final int PAGE_WITH_PHASE = 440;
    private static final int PAGE_WITHOUT_PHASE = 320;
    private static final int KEY_ROOM = 34;

    private static final BasicStroke MAGNITUDE = Plot.full(2f);
    private static final BasicStroke PHASE = Plot.dashed(2f, 7f, 4f);
    private static final BasicStroke BOUNDS = new BasicStroke(1.2f);
    private static final Shape MARK = new Ellipse2D.Double(-3, -3, 6, 6);
    private static final float BAND_ALPHA = 0.22f;

    /** Finer grids have no marks at their bands. */
    private static final int COARSE_FRACTION = 3;

    private final Measurement measurement;
    private final ImpedanceCurve curve;
    private final @Nullable SpecificationOverlay overlay;
    private final @Nullable CurveRanges degrees;

    private ImpedanceChart(Measurement measurement, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        super(
                theme,
                measurement.microphone().label() + ": " + measurement.curve().quantity(),
                measurement.microphone().label(),
                subtitle(measurement.curve()));
        this.measurement = measurement;
        this.curve = measurement.curve();
        this.overlay = overlay;
        this.degrees = CurveRanges.degrees(curve);
    }

    /** The picture of a measurement. */
    public static ImpedanceChart of(Measurement measurement, ChartTheme theme) {
        return new ImpedanceChart(measurement, theme, null);
    }

    /** The picture of a measurement with the limits of a specification and the verdict on it. */
    public static ImpedanceChart checked(
            Measurement measurement, Specification specification, Verdict verdict, ChartTheme theme) {
        return new ImpedanceChart(measurement, theme, new SpecificationOverlay(specification, verdict, theme));
    }

    /** The plots and their key alone, smaller, for a page that says the rest in its own words. */
    public Chart forPage() {
        return new OnPage(degrees == null ? PAGE_WITHOUT_PHASE : PAGE_WITH_PHASE) {
            @Override
            void content(Graphics2D g) {
                plots(g, new Rectangle2D.Double(0, 0, PLOTS_WIDTH, height() - KEY_ROOM));
                key(g, KEY_X, height() - 12);
            }
        };
    }

    private static String subtitle(ImpedanceCurve curve) {
        String quantity = curve.quantity();
        int fraction = curve.bands().fraction();
        String grid = fraction == 1 ? "octave bands" : "1/" + fraction + "-octave bands";
        return Character.toUpperCase(quantity.charAt(0)) + quantity.substring(1) + ", " + grid;
    }

    @Override
    void body(Graphics2D g) {
        plots(g, PLOTS);
        key(g, INDENT, KEY_Y);
        caption(g, caption(), PLOTS.getMaxX() - INDENT, 3, CAPTION_Y);
        new FindingsPanel(measurement, theme, overlay).draw(g, PANEL);
    }

    private void plots(Graphics2D g, Rectangle2D area) {
        List<Plot> plots = new ArrayList<>();
        plots.add(magnitude());
        if (degrees != null) {
            plots.add(plot(
                    Axes.degrees("∠Z in °", degrees.low(), degrees.high(), theme),
                    CurveSegments.phase(curve, degrees),
                    theme.second(),
                    PHASE));
        }
        Plot.stacked(g, area, Axes.frequency(CurveRanges.hertz(curve.bands()), theme), plots, theme);
    }

    private Plot magnitude() {
        CurveRanges ohms = overlay == null ? CurveRanges.ohms(curve) : overlay.ohms(CurveRanges.ohms(curve));
        Plot plot = new Plot(null, Axes.magnitude(ohms, theme), theme);
        if (overlay != null) {
            overlay.marks(plot);
        }
        band(plot, CurveSegments.magnitude(curve, ohms), theme.first(), MAGNITUDE);
        bounds(plot, ohms);
        if (overlay != null) {
            overlay.limits(plot, ohms);
        }
        return plot;
    }

    private Plot plot(ValueAxis axis, YIntervalSeriesCollection lines, Color color, BasicStroke stroke) {
        Plot plot = new Plot(null, axis, theme);
        band(plot, lines, color, stroke);
        return plot;
    }

    private void band(Plot plot, YIntervalSeriesCollection lines, Color color, BasicStroke stroke) {
        plot.banded(lines, color, stroke, BAND_ALPHA, curve.bands().fraction() <= COARSE_FRACTION ? MARK : null);
    }

    /** Bounds reach from edge to edge of their band; what lies outside the axis is cut off by the frame. */
    private void bounds(Plot plot, CurveRanges ohms) {
        for (int i = 0; i < curve.values().size(); i++) {
            BandValue v = curve.values().get(i);
            if (v.status() == BandStatus.INTERVAL) {
                plot.box(
                        curve.bands().lowerEdge(i),
                        curve.bands().upperEdge(i),
                        Math.max(v.magnitudeLowOhm(), ohms.low() / 2),
                        v.magnitudeHighOhm() <= ohms.high() ? v.magnitudeHighOhm() : ohms.high() * 2,
                        BOUNDS,
                        theme.third(),
                        ChartTheme.shade(theme.third()));
            }
        }
    }

    /** What is in the plots, and nothing else, in one row. */
    private void key(Graphics2D g, double x, double y) {
        KeyRow row = new KeyRow(g, theme, x, y, KEY_GAP);
        if (curve.count(BandStatus.MEASURED) > 0) {
            row.line(theme.first(), MAGNITUDE, true, "|Z| and 95 % band");
            if (degrees != null) {
                row.line(theme.second(), PHASE, true, "phase and 95 % band");
            }
        }
        if (curve.count(BandStatus.INTERVAL) > 0) {
            Rectangle2D box = new Rectangle2D.Double(row.x(), y - 11, 16, 14);
            g.setColor(ChartTheme.shade(theme.third()));
            g.fill(box);
            g.setColor(theme.third());
            g.setStroke(BOUNDS);
            g.draw(box);
            row.words(24, "bounds on |Z|, no value");
        }
        if (overlay != null) {
            overlay.key(g, row.x(), y);
        }
    }

    private String caption() {
        List<String> sentences = new ArrayList<>();
        boolean measured = curve.count(BandStatus.MEASURED) > 0;
        if (measured) {
            sentences.add(
                    "Parts of the error are common to all bands, so the curve may shift as a whole within the 95 % band.");
        }
        if (degrees == null) {
            sentences.add(
                    measured
                            ? "No phase: these takes do not determine the sign of the reactance."
                            : "No phase: no band has a value.");
        }
        if (curve.count(BandStatus.REJECTED) > 0) {
            sentences.add("Gaps are rejected bands, about which the takes say nothing.");
        }
        if (curve.values().stream().anyMatch(v -> Double.isInfinite(v.magnitudeHighOhm()))) {
            sentences.add("Bounds that meet the frame are open there.");
        }
        return String.join(" ", sentences);
    }
}
