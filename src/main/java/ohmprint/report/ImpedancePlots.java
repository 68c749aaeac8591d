package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Rectangle2D;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import org.jfree.chart.annotations.XYBoxAnnotation;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.DeviationRenderer;
import org.jfree.data.xy.YIntervalSeriesCollection;
import org.jspecify.annotations.Nullable;

/**
 * |Z| of one curve in ohms and, where the curve has one, its phase in degrees beneath it, over the same frequencies, each
 * with its 95 % band; in |Z| also bounds and the limits of a specification.
 */
final class ImpedancePlots {
    /** How |Z| is drawn. */
    static final BasicStroke MAGNITUDE = PlotStyle.line(2f);

    /** How the phase is drawn. */
    static final BasicStroke PHASE = PlotStyle.dashed(2f);

    /** How bounds are framed. */
    static final BasicStroke BOUNDS = new BasicStroke(1.2f);

    private static final double GAP_BETWEEN_PLOTS = 22;
    private static final int COARSE_FRACTION = 3;

    private final ImpedanceCurve curve;
    private final ChartTheme theme;
    private final @Nullable SpecificationOverlay overlay;
    private final @Nullable CurveRanges degrees;

    ImpedancePlots(ImpedanceCurve curve, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        this.curve = curve;
        this.theme = theme;
        this.overlay = overlay;
        this.degrees = CurveRanges.degrees(curve);
    }

    /** True when there is a plot of the phase. */
    boolean withPhase() {
        return degrees != null;
    }

    void draw(Graphics2D g, Rectangle2D area) {
        CurveRanges hertz = CurveRanges.hertz(curve.bands());
        ValueAxis frequency = Axes.logarithmic("Frequency in Hz", hertz.low(), hertz.high(), theme);
        CombinedDomainXYPlot both = new CombinedDomainXYPlot(frequency);
        both.setGap(GAP_BETWEEN_PLOTS);
        PlotStyle.apply(both, theme);
        both.add(magnitude(), 3);
        if (degrees != null) {
            both.add(phase(degrees), 2);
        }
        both.draw(g, area, null, null, null);
    }

    private XYPlot magnitude() {
        CurveRanges ohms = overlay == null ? CurveRanges.ohms(curve) : overlay.ohms(CurveRanges.ohms(curve));
        ValueAxis axis = Axes.logarithmic("|Z| in Ω", ohms.low(), ohms.high(), theme);
        XYPlot plot = plot(CurveRuns.magnitude(curve, ohms), axis, theme.first(), MAGNITUDE);
        intervals(plot, ohms);
        if (overlay != null) {
            overlay.add(plot, ohms);
        }
        return plot;
    }

    private XYPlot phase(CurveRanges range) {
        ValueAxis axis = Axes.degrees("∠Z in °", range.low(), range.high(), theme);
        return plot(CurveRuns.phase(curve, range), axis, theme.second(), PHASE);
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
                        BOUNDS,
                        theme.third(),
                        ChartTheme.shade(theme.third())));
            }
        }
    }
}
