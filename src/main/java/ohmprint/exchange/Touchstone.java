package ohmprint.exchange;

import java.text.Normalizer;
import java.util.List;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;

/**
 * The one-port network-parameter file of the Touchstone open standard (versions 1 and 2, IBIS Open Forum).
 *
 * <p>A file holds resistance and reactance of each frequency, nothing else: bands without a reactance (power route,
 * intervals, rejected bands) are left out. Where no band has one there is nothing to write, see {@link #canHold}.
 */
public final class Touchstone {
    private Touchstone() {}

    /** True when at least one band has both resistance and reactance. */
    public static boolean canHold(ImpedanceCurve curve) {
        return curve.values().stream().anyMatch(Touchstone::isComplex);
    }

    /**
     * The file in version 1, {@code # Hz Z RI R 1}, frequencies ascending, label, time and quantity in comments.
     *
     * @throws IllegalArgumentException if no band has a reactance
     */
    public static String write(Measurement measurement) {
        ImpedanceCurve curve = measurement.curve();
        if (!canHold(curve)) {
            throw new IllegalArgumentException(
                    "no band of \"" + measurement.microphone().label()
                            + "\" has a reactance, so there is nothing that a Touchstone file could hold; write the table instead");
        }
        StringBuilder out = new StringBuilder();
        comment(out, measurement.microphone().label());
        comment(out, measurement.provenance().computedAt().toString());
        comment(out, curve.quantity() + ", resistance and reactance in ohms");
        out.append("# Hz Z RI R 1\n");
        for (BandValue v : curve.values()) {
            if (isComplex(v)) {
                out.append(Numbers.text(v.frequencyHz()))
                        .append(' ')
                        .append(Numbers.text(v.resistanceOhm()))
                        .append(' ')
                        .append(Numbers.text(v.reactanceOhm()))
                        .append('\n');
            }
        }
        return out.toString();
    }

    /**
     * Reads a one-port file of version 1 or 2: parameters Z, Y or S; formats RI, MA or DB; units Hz, kHz, MHz or GHz.
     *
     * @param text the whole file
     * @param name file name for messages
     * @return impedance points in ohms, ascending in frequency
     * @throws ExchangeException if the text is not such a file; the message holds file and line
     */
    public static List<Point> read(String text, String name) throws ExchangeException {
        return new TouchstoneReader(name).read(text);
    }

    /**
     * Impedance at one frequency.
     *
     * @param frequencyHz frequency in hertz
     * @param resistanceOhm real part in ohms
     * @param reactanceOhm imaginary part in ohms
     */
    public record Point(double frequencyHz, double resistanceOhm, double reactanceOhm) {}

    private static boolean isComplex(BandValue v) {
        return v.isMeasured() && Double.isFinite(v.resistanceOhm()) && Double.isFinite(v.reactanceOhm());
    }

    /** The format is ASCII: accents are dropped, everything else outside it becomes a question mark. */
    private static void comment(StringBuilder out, String words) {
        String ascii = Normalizer.normalize(words, Normalizer.Form.NFD)
                .replaceAll("\\p{M}", "")
                .replaceAll("\\s", " ")
                .replaceAll("[^ -~]", "?");
        out.append("! ").append(ascii).append('\n');
    }
}
