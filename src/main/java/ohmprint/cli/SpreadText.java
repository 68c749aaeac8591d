package ohmprint.cli;

import java.io.IOException;
import java.io.PrintWriter;
import ohmprint.app.library.Spread;
import ohmprint.curve.Rounded;

/** How the units of a model differ, for a reader and for a program. */
final class SpreadText {
    private static final double OCTAVE = 1.9;

    private SpreadText() {}

    static void print(Spread spread, PrintWriter out) {
        out.println(OneLine.of(spread.model() + ": " + spread.units().size() + " units"));
        for (Spread.Unit unit : spread.units()) {
            out.println(OneLine.of("  " + unit.id() + "  " + unit.label()));
        }
        TextTable table = new TextTable("frequency", "5 %", "median", "95 %", "units");
        double last = 0;
        for (Spread.Band b : spread.bands()) {
            if (b.hz() > OCTAVE * last) {
                table.row(
                        Rounded.frequency(b.hz()),
                        Rounded.digits(b.low(), 3) + " Ω",
                        Rounded.digits(b.median(), 3) + " Ω",
                        Rounded.digits(b.high(), 3) + " Ω",
                        Integer.toString(b.units()));
                last = b.hz();
            }
        }
        table.print(out);
        spread.notes().forEach(out::println);
    }

    static void json(Spread spread, PrintWriter out) throws IOException {
        LibraryJson.print(out, g -> {
            g.writeStartObject();
            g.writeStringField("maker", spread.maker());
            g.writeStringField("model", spread.model());
            g.writeArrayFieldStart("units");
            for (Spread.Unit unit : spread.units()) {
                g.writeStartObject();
                g.writeStringField("id", unit.id());
                g.writeStringField("label", unit.label());
                g.writeEndObject();
            }
            g.writeEndArray();
            g.writeArrayFieldStart("bands");
            for (Spread.Band b : spread.bands()) {
                g.writeStartObject();
                g.writeNumberField("frequency_hz", b.hz());
                g.writeNumberField("units", b.units());
                g.writeNumberField("low_ohm", b.low());
                g.writeNumberField("median_ohm", b.median());
                g.writeNumberField("high_ohm", b.high());
                g.writeEndObject();
            }
            g.writeEndArray();
            LibraryJson.texts(g, "notes", spread.notes());
            g.writeEndObject();
        });
    }
}
