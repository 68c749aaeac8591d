package ohmprint.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import ohmprint.app.input.InputOutcome;
import ohmprint.app.input.InputOutcome.ParallelInput;
import ohmprint.curve.Rounded;

/** What {@code input} prints beyond a curve. */
final class InputReport {
    private InputReport() {}

    /** The resistance and capacitance that describe the input, and how to use the result. */
    static void print(InputOutcome outcome, PrintWriter out) {
        Path folder = outcome.measured().folder();
        ParallelInput p = outcome.parallel();
        if (folder == null) {
            return;
        }
        out.println();
        if (p != null && p.describes()) {
            Rounded ohm = Rounded.of(p.ohm(), p.ohmU95());
            Rounded pf = Rounded.of(p.pf(), p.pfU95());
            out.println("in parallel " + ohm.value() + " ± " + ohm.uncertainty() + " Ω, " + pf.value() + " ± "
                    + pf.uncertainty() + " pF (95 %)");
        } else if (p != null) {
            out.println(String.format(
                    Locale.ROOT,
                    "in parallel no resistance and capacitance describe it: the curve is up to %.1f %% off (%s); use the"
                            + " curve itself",
                    p.largestMisfitPercent(),
                    Rounded.frequency(p.worstHz())));
        }
        out.println("use it      copy " + folder.resolve("curve.csv")
                + " into a session, and write input: {curve: curve.csv}");
    }

    /** The same as fields of the JSON object. */
    static OutcomeJson.More fields(InputOutcome outcome) {
        return json -> {
            ParallelInput p = outcome.parallel();
            if (p == null) {
                json.writeNullField("parallel");
                return;
            }
            json.writeObjectFieldStart("parallel");
            json.writeNumberField("resistance_ohm", p.ohm());
            json.writeNumberField("resistance_u95_ohm", p.ohmU95());
            json.writeNumberField("capacitance_pf", p.pf());
            json.writeNumberField("capacitance_u95_pf", p.pfU95());
            json.writeNumberField("largest_misfit_percent", p.largestMisfitPercent());
            json.writeBooleanField("describes", p.describes());
            json.writeEndObject();
        };
    }
}
