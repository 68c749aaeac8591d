package ohmprint.report;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandStatus;
import ohmprint.curve.Finding;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.MinusSign;
import ohmprint.curve.Provenance.TakeOrigin;
import ohmprint.curve.Usability;
import ohmprint.spec.Conformity;
import org.jspecify.annotations.Nullable;

/** What there is to say about a measurement, in words: verdict, route, loads, findings. */
final class FindingsPanel {
    private static final double PADDING = 16;
    private static final double LEADING = 16.5;
    private static final double PARAGRAPH = 9;
    private static final int MOST_LINES_EACH = 7;
    private static final Font HEAD = ChartFonts.plain(11);
    private static final Font VERDICT = ChartFonts.bold(18);
    private static final Font BODY = ChartFonts.plain(12);
    private static final Font STRONG = ChartFonts.bold(12);

    private final Measurement measurement;
    private final ChartTheme theme;
    private final @Nullable SpecificationOverlay overlay;

    FindingsPanel(Measurement measurement, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        this.measurement = measurement;
        this.theme = theme;
        this.overlay = overlay;
    }

    void draw(Graphics2D g, Rectangle2D area) {
        g.setColor(theme.panel());
        g.fill(area);
        double x = area.getX() + PADDING;
        double room = area.getWidth() - 2 * PADDING;
        double bottom = area.getMaxY() - PADDING;
        double y = area.getY() + PADDING + 8;
        if (overlay != null) {
            y = decision(g, overlay, x, y, room);
        }
        y = verdict(g, x, y);
        for (Paragraph p : facts(room)) {
            y = p.draw(g, x, y);
        }
        findings(g, x, y, room, bottom);
    }

    private double verdict(Graphics2D g, double x, double y) {
        String head = overlay == null ? "Verdict" : "Measurement";
        return answer(g, head, measurement.usability(), measurement.usability().word(), x, y);
    }

    /** Whether the specification is met, and what was found about each requirement. */
    private double decision(Graphics2D g, SpecificationOverlay checked, double x, double y, double room) {
        Conformity answer = checked.verdict().conformity();
        Usability likeness = answer == Conformity.WITHIN
                ? Usability.USABLE
                : answer == Conformity.OUTSIDE ? Usability.UNUSABLE : Usability.DOUBTFUL;
        String head = TextFit.oneLine("Specification: " + checked.name(), HEAD, room);
        double next = answer(g, head, likeness, answer.word(), x, y) - PARAGRAPH / 2;
        for (String sentence : checked.sentences()) {
            for (String text : TextFit.wrap(sentence, BODY, room, MOST_LINES_EACH)) {
                Lettering.line(g, BODY, theme.ink(), text, x, next);
                next += LEADING;
            }
            next += PARAGRAPH / 2;
        }
        return next + PARAGRAPH;
    }

    private double answer(Graphics2D g, String head, Usability likeness, String word, double x, double y) {
        Lettering.line(g, HEAD, theme.mutedInk(), head, x, y);
        double baseline = y + 24;
        g.setColor(color(likeness));
        g.fill(symbol(likeness, x, baseline - 14, 14));
        Lettering.line(g, VERDICT, theme.ink(), word, x + 23, baseline);
        return baseline + LEADING + PARAGRAPH;
    }

    private Color color(Usability likeness) {
        return switch (likeness) {
            case USABLE -> theme.good();
            case DOUBTFUL -> theme.third();
            case UNUSABLE -> theme.second();
        };
    }

    /** Disc, triangle or square, so that the verdict does not hang on colour. */
    private static Shape symbol(Usability likeness, double x, double y, double size) {
        if (likeness == Usability.USABLE) {
            return new Ellipse2D.Double(x, y, size, size);
        }
        if (likeness == Usability.UNUSABLE) {
            return new Rectangle2D.Double(x, y, size, size);
        }
        Path2D triangle = new Path2D.Double();
        triangle.moveTo(x + size / 2, y);
        triangle.lineTo(x + size, y + size);
        triangle.lineTo(x, y + size);
        triangle.closePath();
        return triangle;
    }

    private List<Paragraph> facts(double room) {
        List<Paragraph> facts = new ArrayList<>();
        String reason = measurement.routeReason().isBlank() ? "" : ": " + measurement.routeReason();
        facts.add(new Paragraph("Route", TextFit.wrap(measurement.route().word() + reason, BODY, room, 4)));
        facts.add(new Paragraph("Bands", TextFit.wrap(bands(), BODY, room, 2)));
        facts.add(new Paragraph(ofInput() ? "Series resistors" : "Loads", TextFit.wrap(loads(), BODY, room, 2)));
        facts.add(new Paragraph(
                ofInput() ? "Generator" : "Recording input",
                TextFit.wrap(measurement.provenance().input(), BODY, room, 2)));
        return facts;
    }

    private boolean ofInput() {
        return measurement.curve().side() == ImpedanceCurve.Side.INPUT;
    }

    private String bands() {
        ImpedanceCurve curve = measurement.curve();
        List<String> parts = new ArrayList<>();
        for (BandStatus status : BandStatus.values()) {
            long count = curve.count(status);
            if (count > 0) {
                parts.add(count + " " + (status == BandStatus.INTERVAL && count > 1 ? "intervals" : status.word()));
            }
        }
        return String.join(", ", parts);
    }

    private String loads() {
        List<String> parts = new ArrayList<>();
        for (TakeOrigin take : measurement.provenance().takes()) {
            String load = take.loadOhm() == Double.POSITIVE_INFINITY ? "open" : Ticks.plain(take.loadOhm()) + " Ω";
            parts.add(take.leftOut() ? load + " (left out)" : load);
        }
        return String.join(", ", parts);
    }

    private void findings(Graphics2D g, double x, double top, double room, double bottom) {
        List<Finding> all = measurement.findings();
        Lettering.line(g, HEAD, theme.mutedInk(), all.isEmpty() ? "Findings" : "Findings (" + all.size() + ")", x, top);
        double y = top + LEADING + 1;
        if (all.isEmpty()) {
            Lettering.line(g, BODY, theme.ink(), "none", x, y);
            return;
        }
        for (int i = 0; i < all.size(); i++) {
            Finding finding = all.get(i);
            List<String> message = TextFit.wrap(MinusSign.inSentence(finding.message()), BODY, room, MOST_LINES_EACH);
            boolean last = i == all.size() - 1;
            double lowest = y + message.size() * LEADING + (last ? 0 : PARAGRAPH + LEADING);
            if (lowest > bottom) {
                Lettering.line(g, BODY, theme.mutedInk(), "… and " + (all.size() - i) + " more", x, y);
                return;
            }
            String head = finding.take() == null
                    ? finding.code().word()
                    : finding.code().word() + " · " + finding.take();
            Lettering.line(g, STRONG, theme.ink(), TextFit.oneLine(head, STRONG, room), x, y);
            for (String text : message) {
                y += LEADING;
                Lettering.line(g, BODY, theme.ink(), text, x, y);
            }
            y += LEADING + PARAGRAPH;
        }
    }

    /** A small heading and the lines beneath it. */
    private final class Paragraph {
        private final String head;
        private final List<String> lines;

        Paragraph(String head, List<String> lines) {
            this.head = head;
            this.lines = lines;
        }

        double draw(Graphics2D g, double x, double y) {
            Lettering.line(g, HEAD, theme.mutedInk(), head, x, y);
            double next = y + LEADING + 1;
            for (String text : lines) {
                Lettering.line(g, BODY, theme.ink(), text, x, next);
                next += LEADING;
            }
            return next + PARAGRAPH;
        }
    }
}
