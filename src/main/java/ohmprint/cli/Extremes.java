package ohmprint.cli;

import java.util.Comparator;
import java.util.List;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Rounded;

/** The highest and the lowest |Z| of a curve, and the input that they ask for, in words. */
final class Extremes {
    /** Input over source impedance that counts as a light load: common practice, no source. */
    private static final double LIGHT_LOAD = 10;

    private final List<BandValue> measured;
    private final double highestPossibleOhm;

    /** Those of a curve. */
    Extremes(ImpedanceCurve curve) {
        measured = curve.values().stream().filter(BandValue::isMeasured).toList();
        highestPossibleOhm = curve.values().stream()
                .filter(v -> v.status() != BandStatus.REJECTED)
                .mapToDouble(v -> v.isMeasured() ? v.magnitudeOhm() + v.magnitudeU95Ohm() : v.magnitudeHighOhm())
                .max()
                .orElse(Double.NaN);
    }

    /** True when at least one band holds a value. */
    boolean exist() {
        return !measured.isEmpty();
    }

    /** The highest |Z| and where it is. */
    String highest() {
        return text(measured.stream()
                .max(Comparator.comparingDouble(BandValue::magnitudeOhm))
                .orElseThrow());
    }

    /** The lowest |Z| and where it is. */
    String lowest() {
        return text(measured.stream()
                .min(Comparator.comparingDouble(BandValue::magnitudeOhm))
                .orElseThrow());
    }

    /**
     * The least input in ohms that is ten times |Z| with its uncertainty in each band that is not rejected, rounded up
     * to two digits; not finite when the evidence sets no upper bound.
     */
    double lightLoadOhm() {
        double ohm = LIGHT_LOAD * highestPossibleOhm;
        double step = Math.pow(10, Math.floor(Math.log10(ohm)) - 1);
        return Math.ceil(ohm / step) * step;
    }

    private static String text(BandValue v) {
        Rounded ohm = Rounded.of(v.magnitudeOhm(), v.magnitudeU95Ohm());
        String uncertainty = ohm.uncertainty().equals(Rounded.NONE) ? "" : " ± " + ohm.uncertainty();
        return ohm.value() + uncertainty + " Ω at " + Rounded.frequency(v.frequencyHz());
    }
}
