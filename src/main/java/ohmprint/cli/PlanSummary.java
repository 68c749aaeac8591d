package ohmprint.cli;

import java.io.PrintWriter;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import ohmprint.app.LoadPlan;
import ohmprint.app.LoadPlan.LoadSet;
import ohmprint.app.UncertaintyOrigin;
import ohmprint.curve.Rounded;

/** A plan for a reader at a terminal. */
final class PlanSummary {
    private static final int PERCENT_DIGITS = 2;

    private final LoadPlan plan;
    private final PrintWriter out;

    private PlanSummary(LoadPlan plan, PrintWriter out) {
        this.plan = plan;
        this.out = out;
    }

    /** Prints it: what was assumed, the sets, what changes would give. */
    static void print(LoadPlan plan, PrintWriter out) {
        new PlanSummary(plan, out).print();
    }

    private void print() {
        line("expected", OneLine.of(plan.expected()));
        int last = plan.bands().size() - 1;
        line(
                "bands",
                Rounded.frequency(plan.bands().midband(0)) + " to "
                        + Rounded.frequency(plan.bands().midband(last)) + " (1/"
                        + plan.bands().fraction() + " octave)");
        line("input", plan.input());
        line(
                "takes",
                "sweep of " + plain(plan.bench().seconds()) + " s, signal "
                        + plain(plan.bench().snrDb()) + " dB over noise, level drift "
                        + plain(plan.bench().driftPercent()) + " %, resistors ± " + plain(plan.tolerancePercent())
                        + " %");
        out.println();
        table();
        LoadSet best = plan.sets().get(0);
        out.println();
        line("best", takes(best));
        line("limited by", limit(best));
        length(best);
        out.println();
        out.println("What a change to it would give (worst, median)");
        for (LoadPlan.Change change : best.changes()) {
            out.println(
                    "  " + change.change() + ": " + percent(change.predicted().worst()) + ", "
                            + percent(change.predicted().median()));
        }
        if (!plan.notes().isEmpty()) {
            out.println();
            plan.notes().forEach(note -> out.println(OneLine.of(note)));
        }
    }

    private void table() {
        List<String[]> rows = new ArrayList<>();
        rows.add(new String[] {"loads Ω", "worst ± 95 %", "at", "median ± 95 %", "limited by", "careful"});
        for (LoadSet set : plan.sets()) {
            rows.add(new String[] {
                loads(set.loadsOhm()),
                percent(set.predicted().worst()),
                Rounded.frequency(set.worstHz()),
                percent(set.predicted().median()),
                UncertaintyOrigin.largest(set.worstBudget()).word(),
                set.findings().isEmpty() ? "" : set.findings().get(0).code().word()
            });
        }
        int[] width = new int[rows.get(0).length];
        rows.forEach(row -> {
            for (int i = 0; i < row.length; i++) {
                width[i] = Math.max(width[i], row[i].length());
            }
        });
        for (String[] row : rows) {
            StringBuilder line = new StringBuilder();
            for (int i = 0; i < row.length; i++) {
                line.append("  ").append(" ".repeat(width[i] - row[i].length())).append(row[i]);
            }
            out.println(line.toString().stripTrailing());
        }
    }

    private static String takes(LoadSet set) {
        return "take in this order: " + loads(set.takeOrderOhm()) + " (the first load once more shows the drift)";
    }

    private static String limit(LoadSet set) {
        UncertaintyOrigin cause = UncertaintyOrigin.largest(set.worstBudget());
        double share = Math.pow(cause.of(set.worstBudget()) / set.worstBudget().combined(), 2);
        return cause.word() + ", " + Rounded.digits(100 * share, PERCENT_DIGITS) + " % of the variance at "
                + Rounded.frequency(set.worstHz()) + ", where |Z| is " + Rounded.digits(set.worstOhm(), 3) + " Ω";
    }

    private void length(LoadSet set) {
        Double seconds = set.secondsForWanted();
        Double wanted = plan.wantedPercent();
        if (seconds != null && wanted != null) {
            line(
                    "wanted",
                    plain(wanted) + " % in all bands "
                            + (Double.isInfinite(seconds)
                                    ? "is out of reach of any length of sweep: drift, resistors and input alone exceed it"
                                    : "takes a sweep of " + Rounded.digits(seconds, PERCENT_DIGITS) + " s"));
        }
    }

    private void line(String name, String text) {
        out.println(name + " ".repeat(12 - name.length()) + text);
    }

    private static String loads(List<Double> ohms) {
        return ohms.stream()
                .map(ohm -> Double.isInfinite(ohm) ? "open" : plain(ohm))
                .collect(Collectors.joining(", "));
    }

    private static String percent(double value) {
        return Double.isInfinite(value) ? "none" : Rounded.digits(value, PERCENT_DIGITS) + " %";
    }

    private static String plain(double value) {
        return new BigDecimal(value)
                .round(new MathContext(6))
                .stripTrailingZeros()
                .toPlainString();
    }
}
