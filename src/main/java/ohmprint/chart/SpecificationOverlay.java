package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.conformity.BandCheck;
import ohmprint.conformity.Conformity;
import ohmprint.conformity.Limits;
import ohmprint.conformity.ReferenceCurve;
import ohmprint.conformity.RequirementVerdict;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.conformity.Verdict;
import org.jfree.data.xy.XYSeries;

/**
 * The limits of a specification over a curve of |Z|: what is forbidden is shaded from the limit to the frame, a rated
 * impedance is an upright bar, a resonance window a column between dotted lines. Bands that are outside carry a filled
 * square, undecided ones an open triangle.
 */
final class SpecificationOverlay {
    /** How far beyond the curve the axis reaches for the sake of a limit. */
    private static final double FURTHEST_LIMIT = 4;

    private static final double MARGIN = 1.12;
    private static final double KEY_GAP = 24;
    private static final int STEPS = 60;
    private static final double CAP = 1.035;
    private static final BasicStroke LIMIT = new BasicStroke(1.6f);
    private static final BasicStroke OUTLINE = new BasicStroke(1.4f);
    private static final BasicStroke DOTTED = Plot.dashed(1.4f, 2f, 3f);
    private static final BasicStroke NONE = new BasicStroke(0f);

    private final Specification specification;
    private final Verdict verdict;
    private final ChartTheme theme;

    SpecificationOverlay(Specification specification, Verdict verdict, ChartTheme theme) {
        this.specification = specification;
        this.verdict = verdict;
        this.theme = theme;
    }

    String name() {
        return specification.name();
    }

    Verdict verdict() {
        return verdict;
    }

    /** What was found, a sentence for each requirement, longer ones for those that are not met. */
    List<String> sentences() {
        List<String> out = new ArrayList<>(verdict.reasons());
        for (RequirementVerdict requirement : verdict.requirements()) {
            List<String> findings = requirement.findings();
            String first = findings.isEmpty() ? requirement.conformity().word() : findings.get(0);
            out.add(requirement.kind().words() + ": " + first
                    + (findings.size() > 1 ? "; and " + (findings.size() - 1) + " more" : ""));
        }
        return out;
    }

    /** Axis of the curve, widened so that limits near it are seen. */
    CurveRanges ohms(CurveRanges curve) {
        double low = curve.low();
        double high = curve.high();
        for (Limits limits : allLimits()) {
            if (limits.hasLow() && limits.lowOhm() > curve.low() / FURTHEST_LIMIT) {
                low = Math.min(low, limits.lowOhm() / MARGIN);
                high = limits.lowOhm() < curve.high() * FURTHEST_LIMIT
                        ? Math.max(high, limits.lowOhm() * MARGIN)
                        : high;
            }
            if (limits.hasHigh() && limits.highOhm() < curve.high() * FURTHEST_LIMIT) {
                high = Math.max(high, limits.highOhm() * MARGIN);
                low = limits.highOhm() > curve.low() / FURTHEST_LIMIT ? Math.min(low, limits.highOhm() / MARGIN) : low;
            }
        }
        return new CurveRanges(low, high);
    }

    private List<Limits> allLimits() {
        List<Limits> out = new ArrayList<>();
        RatedImpedance rated = specification.rated();
        if (rated != null) {
            out.add(rated.limits());
        }
        specification.mask().forEach(range -> out.add(range.limits()));
        ReferenceCurve reference = specification.reference();
        if (reference != null) {
            reference.points().forEach(p -> out.add(Limits.exact(p.lowOhm(), p.highOhm())));
        }
        return out;
    }

    /** Adds the marks of bands, which lie beneath the curve; those that are outside lie lowest. */
    void marks(Plot plot) {
        marks(plot, Conformity.OUTSIDE, new Rectangle2D.Double(-3, -3, 6, 6), theme.second(), true);
        marks(plot, Conformity.UNDECIDED, triangle(0, 0, 4.5), theme.third(), false);
    }

    /** Adds the limits. */
    void limits(Plot plot, CurveRanges ohms) {
        ResonanceWindow window = specification.resonance();
        if (window != null) {
            box(plot, window.fromHz(), window.toHz(), ohms.low() / 2, ohms.high() * 2, ChartTheme.shade(theme.good()));
            plot.segment(window.fromHz(), ohms.low(), window.fromHz(), ohms.high(), DOTTED, theme.good());
            plot.segment(window.toHz(), ohms.low(), window.toHz(), ohms.high(), DOTTED, theme.good());
        }
        for (MaskRange range : specification.mask()) {
            limits(plot, ohms, range.fromHz(), range.toHz(), range.limits(), range.limits());
        }
        ReferenceCurve reference = specification.reference();
        if (reference != null) {
            for (int i = 0; i < STEPS; i++) {
                double ratio = reference.toHz() / reference.fromHz();
                double from = reference.fromHz() * Math.pow(ratio, i / (double) STEPS);
                double to = Math.min(reference.toHz(), from * Math.pow(ratio, 1.0 / STEPS));
                limits(plot, ohms, from, to, reference.limits(from), reference.limits(to));
                plot.segment(from, reference.ohm(from), to, reference.ohm(to), DOTTED, theme.mutedInk());
            }
        }
        RatedImpedance rated = specification.rated();
        if (rated != null) {
            bar(plot, rated);
        }
    }

    private void limits(Plot plot, CurveRanges ohms, double from, double to, Limits at, Limits then) {
        if (at.hasLow()) {
            box(plot, from, to, ohms.low() / 2, Math.sqrt(at.lowOhm() * then.lowOhm()), forbidden());
            plot.segment(from, at.lowOhm(), to, then.lowOhm(), LIMIT, theme.mutedInk());
        }
        if (at.hasHigh()) {
            box(plot, from, to, Math.sqrt(at.highOhm() * then.highOhm()), ohms.high() * 2, forbidden());
            plot.segment(from, at.highOhm(), to, then.highOhm(), LIMIT, theme.mutedInk());
        }
    }

    private void bar(Plot plot, RatedImpedance rated) {
        Limits limits = rated.limits();
        double hz = rated.atHz();
        plot.segment(hz, limits.lowOhm(), hz, limits.highOhm(), LIMIT, theme.ink());
        for (double ohm : new double[] {limits.lowOhm(), limits.highOhm()}) {
            plot.segment(hz / CAP, ohm, hz * CAP, ohm, LIMIT, theme.ink());
        }
    }

    private Color forbidden() {
        Color c = theme.mutedInk();
        return new Color(c.getRed(), c.getGreen(), c.getBlue(), 40);
    }

    private static void box(Plot plot, double from, double to, double low, double high, Color fill) {
        if (low < high) {
            plot.box(from, to, low, high, NONE, new Color(0, 0, 0, 0), fill);
        }
    }

    private void marks(Plot plot, Conformity answer, Shape shape, Color color, boolean filled) {
        XYSeries series = new XYSeries(answer.word(), false, true);
        for (RequirementVerdict requirement : verdict.requirements()) {
            for (BandCheck check : requirement.checks()) {
                if (check.conformity() == answer && Double.isFinite(check.ohm())) {
                    series.add(check.hz(), check.ohm());
                }
            }
        }
        plot.marks(series, color, OUTLINE, shape, filled);
    }

    private static Shape triangle(double x, double y, double size) {
        Path2D path = new Path2D.Double();
        path.moveTo(x, y - size);
        path.lineTo(x + size, y + size * 0.8);
        path.lineTo(x - size, y + size * 0.8);
        path.closePath();
        return path;
    }

    /** Continues the key under the plots from x on. */
    void key(Graphics2D g, double x, double y) {
        KeyRow row = new KeyRow(g, theme, x, y, KEY_GAP);
        if (!specification.mask().isEmpty() || specification.reference() != null) {
            g.setColor(forbidden());
            g.fill(new Rectangle2D.Double(row.x(), y - 11, 26, 14));
            g.setColor(theme.mutedInk());
            g.setStroke(LIMIT);
            g.draw(new Line2D.Double(row.x(), y - 11, row.x() + 26, y - 11));
            row.words(34, "beyond a limit");
        }
        if (specification.rated() != null) {
            g.setColor(theme.ink());
            g.setStroke(LIMIT);
            g.draw(new Line2D.Double(row.x() + 4, y - 11, row.x() + 4, y + 2));
            g.draw(new Line2D.Double(row.x(), y - 11, row.x() + 8, y - 11));
            g.draw(new Line2D.Double(row.x(), y + 2, row.x() + 8, y + 2));
            row.words(16, "rated");
        }
        if (specification.resonance() != null) {
            g.setColor(ChartTheme.shade(theme.good()));
            g.fill(new Rectangle2D.Double(row.x(), y - 11, 14, 14));
            row.words(22, "resonance");
        }
        if (has(Conformity.OUTSIDE)) {
            g.setColor(theme.second());
            g.fill(new Rectangle2D.Double(row.x(), y - 8, 7, 7));
            row.words(14, "outside");
        }
        if (has(Conformity.UNDECIDED)) {
            g.setColor(theme.third());
            g.setStroke(OUTLINE);
            g.draw(triangle(row.x() + 5, y - 5, 4.5));
            row.words(16, "undecided");
        }
    }

    private boolean has(Conformity answer) {
        return verdict.requirements().stream()
                .flatMap(r -> r.checks().stream())
                .anyMatch(c -> c.conformity() == answer && Double.isFinite(c.ohm()));
    }
}
