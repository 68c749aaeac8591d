package ohmprint.cli;

import java.io.PrintWriter;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;

/** A curve in about ten rows: the bands nearest to the octaves from 31.5 Hz to 16 kHz. */
final class ImpedanceTable {
    /** Nominal octave midbands in hertz; IEC 61260-1 (from memory). */
    private static final double[] SHOWN_HZ = {31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16000};

    private ImpedanceTable() {}

    /** Prints the table with a heading. */
    static void print(ImpedanceCurve curve, PrintWriter out) {
        TextTable table = TextTable.ofNumbers("frequency", "|Z| Ω", "± 95 %", "phase °", "± 95 %");
        double last = 0;
        for (double hz : SHOWN_HZ) {
            BandValue nearest = nearest(curve, hz);
            double reach = 0.5 / curve.bands().fraction();
            boolean near = Math.abs(Math.log(nearest.frequencyHz() / hz) / Math.log(2)) <= 1.1 * reach;
            if (near && nearest.frequencyHz() > last) {
                last = nearest.frequencyHz();
                table.row(row(nearest));
            }
        }
        if (!table.isEmpty()) {
            table.print(out);
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
        String frequency = Numbers.frequency(v.frequencyHz());
        return switch (v.status()) {
            case MEASURED -> {
                Rounded ohm = Rounded.of(v.magnitudeOhm(), v.magnitudeU95Ohm());
                Rounded degrees = Rounded.of(v.phaseDeg(), v.phaseU95Deg());
                yield new String[] {frequency, ohm.value(), ohm.uncertainty(), degrees.value(), degrees.uncertainty()};
            }
            case INTERVAL ->
                new String[] {
                    frequency,
                    Numbers.bounds(v.magnitudeLowOhm(), v.magnitudeHighOhm(), 3),
                    Rounded.NONE,
                    Rounded.NONE,
                    Rounded.NONE
                };
            case REJECTED -> new String[] {frequency, "rejected", "", "", ""};
        };
    }
}
