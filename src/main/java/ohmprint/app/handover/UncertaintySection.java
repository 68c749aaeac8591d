package ohmprint.app.handover;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.Measurement;
import ohmprint.curve.Rounded;
import ohmprint.report.Sheet.Block;
import ohmprint.report.Sheet.Section;
import ohmprint.report.Sheet.Table;
import ohmprint.report.Sheet.Words;

/** What the number after ± is, in the form that JCGM 100:2008, 7.2.3 asks for, and where it comes from. */
final class UncertaintySection {
    private static final double[] SHOWN_HZ = {50, 100, 200, 1000, 5000, 10_000, 16_000};
    private static final double LEAST_OHM = 0.001;
    private static final double NEAR = Math.log(2) / 8;

    private UncertaintySection() {}

    static Section of(Measurement m) {
        List<Block> blocks = new ArrayList<>();
        blocks.add(new Words(
                "The number after ± is an expanded uncertainty U = k·u, with u the combined standard uncertainty and the"
                        + " coverage factor k from Student's distribution for the effective degrees of freedom; it defines"
                        + " an interval with a level of confidence of 95 %. Where |Z| is hardly larger than u, the interval"
                        + " is found by propagating distributions (JCGM 101:2008) instead, and k is U divided by u."));
        List<List<String>> rows = rows(m);
        if (!rows.isEmpty()) {
            blocks.add(new Table(
                    "Standard uncertainty of |Z| by origin, ohms",
                    List.of("At", "|Z| ± U, Ω", "noise", "drift", "loads", "input", "timing", "together", "k"),
                    rows));
            blocks.add(new Words(
                    "Drift is what levels may have changed from take to take; loads is the tolerance of the resistors; input"
                            + " is what is not known of the recording input and its cable. These three are common to all"
                            + " bands and move the curve as a whole."));
        }
        return new Section("Uncertainty", blocks);
    }

    private static List<List<String>> rows(Measurement m) {
        List<List<String>> rows = new ArrayList<>();
        BandValue last = null;
        for (double hz : SHOWN_HZ) {
            BandValue v = m.curve().values().stream()
                    .filter(b -> b.budget() != null && Math.abs(Math.log(b.frequencyHz() / hz)) < NEAR)
                    .min((a, b) -> Double.compare(
                            Math.abs(Math.log(a.frequencyHz() / hz)), Math.abs(Math.log(b.frequencyHz() / hz))))
                    .orElse(null);
            if (v != null && !v.equals(last) && v.budget() != null) {
                rows.add(row(v, v.budget()));
                last = v;
            }
        }
        return rows;
    }

    private static List<String> row(BandValue v, BandBudget b) {
        Rounded z = Rounded.of(v.magnitudeOhm(), v.magnitudeU95Ohm());
        return List.of(
                Rounded.frequency(v.frequencyHz()),
                z.value() + " ± " + z.uncertainty(),
                two(b.noise()),
                two(b.drift()),
                two(b.loads()),
                two(b.input()),
                two(b.timing()),
                two(b.combined()),
                b.combined() > 0 ? Rounded.digits(v.magnitudeU95Ohm() / b.combined(), 3) : Rounded.NONE);
    }

    private static String two(double ohm) {
        return ohm == 0 ? "0" : ohm < LEAST_OHM ? "< " + LEAST_OHM : Rounded.digits(ohm, 2);
    }
}
