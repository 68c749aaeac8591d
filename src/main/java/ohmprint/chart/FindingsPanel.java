package ohmprint.chart;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import ohmprint.conformity.Conformity;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.Finding;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.impedance.Usability;
import ohmprint.text.MinusSign;
import org.jspecify.annotations.Nullable;

/** What there is to say about a measurement, in words: verdict, route, loads, findings. */
final class FindingsPanel {
    private static final int MOST_LINES_EACH = 7;
    private static final Font VERDICT = TextPainter.bold(18);

    private final Measurement measurement;
    private final ChartTheme theme;
    private final @Nullable SpecificationOverlay overlay;

    FindingsPanel(Measurement measurement, ChartTheme theme, @Nullable SpecificationOverlay overlay) {
        this.measurement = measurement;
        this.theme = theme;
        this.overlay = overlay;
    }

    void draw(Graphics2D g, Rectangle2D area) {
        TextColumn column = new TextColumn(g, area, theme);
        if (overlay != null) {
            decision(g, column, overlay);
        }
        String head = overlay == null ? "Verdict" : "Measurement";
        answer(g, column, head, measurement.usability(), measurement.usability().word());
        facts(column);
        findings(column);
    }

    /** Whether the specification is met, and what was found about each requirement. */
    private void decision(Graphics2D g, TextColumn column, SpecificationOverlay checked) {
        Conformity answer = checked.verdict().conformity();
        Usability likeness = answer == Conformity.WITHIN
                ? Usability.USABLE
                : answer == Conformity.OUTSIDE ? Usability.UNUSABLE : Usability.DOUBTFUL;
        String head = TextPainter.oneLine("Specification: " + checked.name(), TextColumn.HEAD, column.room());
        answer(g, column, head, likeness, answer.word());
        column.space(-TextColumn.PARAGRAPH / 2);
        for (String sentence : checked.sentences()) {
            column.text(sentence, MOST_LINES_EACH);
            column.space(TextColumn.PARAGRAPH / 2);
        }
        column.space(TextColumn.PARAGRAPH);
    }

    private void answer(Graphics2D g, TextColumn column, String head, Usability likeness, String word) {
        double baseline = column.y() + 24;
        column.head(head);
        g.setColor(color(likeness));
        g.fill(symbol(likeness, column.x(), baseline - 14, 14));
        TextPainter.line(g, VERDICT, theme.ink(), word, column.x() + 23, baseline);
        column.space(baseline + TextColumn.LEADING + TextColumn.PARAGRAPH - column.y());
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

    private void facts(TextColumn column) {
        String reason = measurement.routeReason().isBlank() ? "" : ": " + measurement.routeReason();
        column.paragraph("Route", measurement.route().word() + reason, 4);
        column.paragraph("Bands", bands(), 2);
        column.paragraph(ofInput() ? "Series resistors" : "Loads", loads(), 2);
        column.paragraph(
                ofInput() ? "Generator" : "Recording input",
                measurement.provenance().input(),
                2);
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

    private void findings(TextColumn column) {
        List<Finding> all = measurement.findings();
        column.head(all.isEmpty() ? "Findings" : "Findings (" + all.size() + ")");
        if (all.isEmpty()) {
            column.line(TextColumn.BODY, theme.ink(), "none");
            return;
        }
        for (int i = 0; i < all.size(); i++) {
            Finding finding = all.get(i);
            List<String> message = TextPainter.wrap(
                    MinusSign.inSentence(finding.message()), TextColumn.BODY, column.room(), MOST_LINES_EACH);
            double more = i == all.size() - 1 ? 0 : TextColumn.PARAGRAPH + TextColumn.LEADING;
            if (column.y() + message.size() * TextColumn.LEADING + more > column.bottom()) {
                column.line(TextColumn.BODY, theme.mutedInk(), "… and " + (all.size() - i) + " more");
                return;
            }
            String head = finding.take() == null
                    ? finding.code().word()
                    : finding.code().word() + " · " + finding.take();
            column.line(TextColumn.STRONG, theme.ink(), TextPainter.oneLine(head, TextColumn.STRONG, column.room()));
            column.body(message);
            column.space(TextColumn.PARAGRAPH);
        }
    }
}
