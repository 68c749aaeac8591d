package ohmprint.report;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import ohmprint.curve.BandStatus;
import ohmprint.curve.ImpedanceCurve;
import org.jspecify.annotations.Nullable;

/** The key beneath the plots of one curve: what is in them, and nothing else, in one row. */
final class ImpedanceKey {
    private static final double GAP = 28;

    private final ImpedanceCurve curve;
    private final ChartTheme theme;
    private final @Nullable SpecificationOverlay overlay;

    ImpedanceKey(ImpedanceCurve curve, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        this.curve = curve;
        this.theme = theme;
        this.overlay = overlay;
    }

    /** Draws it from x on, with the letters standing on y. */
    void draw(Graphics2D g, boolean withPhase, double x, double y) {
        double next = x;
        if (curve.count(BandStatus.MEASURED) > 0) {
            next = magnitude().draw(g, theme, next, y) + GAP;
            if (withPhase) {
                next = phase().draw(g, theme, next, y) + GAP;
            }
        }
        if (curve.count(BandStatus.INTERVAL) > 0) {
            next = bounds(g, next, y) + GAP;
        }
        if (overlay != null) {
            overlay.key(g, next, y);
        }
    }

    private KeyLine magnitude() {
        return new KeyLine(theme.first(), ImpedancePlots.MAGNITUDE, true, "|Z| and 95 % band");
    }

    private KeyLine phase() {
        return new KeyLine(theme.second(), ImpedancePlots.PHASE, true, "phase and 95 % band");
    }

    private double bounds(Graphics2D g, double x, double y) {
        Rectangle2D box = new Rectangle2D.Double(x, y - 11, 16, 14);
        g.setColor(ChartTheme.shade(theme.third()));
        g.fill(box);
        g.setColor(theme.third());
        g.setStroke(ImpedancePlots.BOUNDS);
        g.draw(box);
        String words = "bounds on |Z|, no value";
        Lettering.line(g, Lettering.SMALL, theme.ink(), words, x + 24, y);
        return x + 24 + TextFit.width(words, Lettering.SMALL);
    }
}
