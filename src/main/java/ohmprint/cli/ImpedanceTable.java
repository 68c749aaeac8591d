package ohmprint.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Rounded;

/** A curve in about ten rows: the bands nearest to the octaves from 31.5 Hz to 16 kHz. */
final class ImpedanceTable {
    /** Nominal octave midbands in hertz; IEC 61260-1 (from memory). */
    private static final double[] SHOWN_HZ = {31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16000};

    private static final String[] HEADINGS = {"frequency", "|Z| Ω", "± 95 %", "phase °", "± 95 %"};

    private ImpedanceTable() {}

    /** Prints the table with a heading, columns aligned to the right. */
    static void print(ImpedanceCurve curve, PrintWriter out) {
        List<String[]> rows = new ArrayList<>();
        rows.add(HEADINGS);
        double last = 0;
        for (double hz : SHOWN_HZ) {
            BandValue nearest = nearest(curve, hz);
            double reach = 0.5 / curve.bands().fraction();
            boolean near = Math.abs(Math.log(nearest.frequencyHz() / hz) / Math.log(2)) <= 1.1 * reach;
            if (near && nearest.frequencyHz() > last) {
                last = nearest.frequencyHz();
                rows.add(row(nearest));
            }
        }
        if (rows.size() > 1) {
            print(rows, out);
        }
    }

    private static BandValue nearest(ImpedanceCurve curve, double hz) {
        BandValue best = curve.values().get(0);
        for (BandValue v : curve.values()) {
            if (Math.abs(Math.log(v.frequencyHz() / hz)) < Math.abs(Math.log(best.frequencyHz() / hz))) {
                best = v;
            }
        }
        return best;
    }

    private static String[] row(BandValue v) {
        String frequency = Rounded.frequency(v.frequencyHz());
        return switch (v.status()) {
            case MEASURED -> {
                Rounded ohm = Rounded.of(v.magnitudeOhm(), v.magnitudeU95Ohm());
                Rounded degrees = Rounded.of(v.phaseDeg(), v.phaseU95Deg());
                yield new String[] {frequency, ohm.value(), ohm.uncertainty(), degrees.value(), degrees.uncertainty()};
            }
            case INTERVAL -> new String[] {frequency, bounds(v), Rounded.NONE, Rounded.NONE, Rounded.NONE};
            case REJECTED -> new String[] {frequency, "rejected", "", "", ""};
        };
    }

    private static String bounds(BandValue v) {
        String low = Rounded.digits(v.magnitudeLowOhm(), 3);
        return Double.isFinite(v.magnitudeHighOhm())
                ? low + " to " + Rounded.digits(v.magnitudeHighOhm(), 3)
                : low + " or more";
    }

    private static void print(List<String[]> rows, PrintWriter out) {
        int[] width = new int[HEADINGS.length];
        for (String[] row : rows) {
            for (int i = 0; i < row.length; i++) {
                width[i] = Math.max(width[i], row[i].length());
            }
        }
        for (String[] row : rows) {
            StringBuilder line = new StringBuilder();
            for (int i = 0; i < row.length; i++) {
                line.append("  ").append(" ".repeat(width[i] - row[i].length())).append(row[i]);
            }
            out.println(line.toString().stripTrailing());
        }
    }
}
