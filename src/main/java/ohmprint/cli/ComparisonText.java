package ohmprint.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.Comparison.Difference;
import ohmprint.curve.Rounded;

/** Where curves differ, for a reader and for a program. */
final class ComparisonText {
    private ComparisonText() {}

    static void print(Comparison comparison, PrintWriter out) {
        String first = comparison.curves().get(0).measurement().microphone().label();
        for (Difference d : comparison.differences()) {
            out.println(OneLine.of(d.label() + " against " + first + ": " + summary(d)));
            if (!d.ranges().isEmpty()) {
                TextTable table = new TextTable("range", "bands", "largest difference", "at");
                for (Difference.Range r : d.ranges()) {
                    Difference.Band b = r.largest();
                    table.row(
                            r.bands() == 1
                                    ? Rounded.frequency(r.fromHz())
                                    : Rounded.frequency(r.fromHz()) + " to " + Rounded.frequency(r.toHz()),
                            Integer.toString(r.bands()),
                            percent(b.percent()) + " (" + percent(b.lowPercent()) + " to " + percent(b.highPercent())
                                    + ")",
                            Rounded.frequency(b.hz()));
                }
                table.print(out);
            }
            if (d.different() != null) {
                out.println(OneLine.of(d.different()));
            }
            out.println(d.assumed());
        }
        out.println("Of the bands called different no more than 5 % are expected to be so by chance"
                + " (Benjamini and Hochberg). In brackets: 95 % interval.");
    }

    private static String summary(Difference d) {
        long count = d.count();
        return count == 0
                ? "no significant difference in " + d.bands().size() + " bands"
                : "differs in " + count + " of " + d.bands().size() + " bands";
    }

    private static String percent(double value) {
        return (value > 0 ? "+" : "") + Rounded.digits(value, 2) + " %";
    }

    static void json(Comparison comparison, PrintWriter out) throws IOException {
        LibraryJson.print(out, g -> {
            g.writeStartObject();
            g.writeArrayFieldStart("curves");
            for (var curve : comparison.curves()) {
                g.writeStartObject();
                g.writeStringField("name", curve.name());
                g.writeStringField("label", curve.measurement().microphone().label());
                g.writeEndObject();
            }
            g.writeEndArray();
            g.writeArrayFieldStart("differences");
            for (Difference d : comparison.differences()) {
                g.writeStartObject();
                g.writeStringField("label", d.label());
                g.writeNumberField("bands_compared", d.bands().size());
                g.writeNumberField("bands_that_differ", d.count());
                g.writeStringField("assumed", d.assumed());
                g.writeStringField("warning", d.different());
                g.writeArrayFieldStart("ranges");
                for (Difference.Range r : d.ranges()) {
                    g.writeStartObject();
                    g.writeNumberField("from_hz", r.fromHz());
                    g.writeNumberField("to_hz", r.toHz());
                    g.writeNumberField("bands", r.bands());
                    band(g, r.largest());
                    g.writeEndObject();
                }
                g.writeEndArray();
                g.writeArrayFieldStart("bands");
                for (Difference.Band b : d.bands()) {
                    g.writeStartObject();
                    band(g, b);
                    g.writeBooleanField("differs", b.differs());
                    g.writeEndObject();
                }
                g.writeEndArray();
                g.writeEndObject();
            }
            g.writeEndArray();
            g.writeEndObject();
        });
    }

    private static void band(JsonGenerator g, Difference.Band b) throws IOException {
        g.writeNumberField("frequency_hz", b.hz());
        g.writeNumberField("difference_percent", b.percent());
        g.writeNumberField("difference_low_percent", b.lowPercent());
        g.writeNumberField("difference_high_percent", b.highPercent());
    }
}
