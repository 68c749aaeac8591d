package ohmprint.report;

import java.util.List;

/**
 * What the straight-line picture shows: with D the transfer function of a take, {@code 1/D = a + b·y} over the load
 * admittance y, normalised here to {@code a = 1}, so that the slope is the source impedance: {@code 1 + Z·y}.
 *
 * @param label what was measured
 * @param bands one to six bands, in the order of drawing
 */
public record LinePlotData(String label, List<Band> bands) {
    /** Most bands of one picture. */
    public static final int MOST_BANDS = 6;

    /**
     * Copies the list.
     *
     * @throws IllegalArgumentException for no band, or more than six
     */
    public LinePlotData {
        bands = List.copyOf(bands);
        if (bands.isEmpty() || bands.size() > MOST_BANDS) {
            throw new IllegalArgumentException("a straight-line picture holds 1 to " + MOST_BANDS + " bands, not "
                    + bands.size() + "; choose some");
        }
    }

    /**
     * One band.
     *
     * @param frequencyHz midband in hertz
     * @param resistanceOhm fitted R in ohms: slope of the real part
     * @param reactanceOhm fitted X in ohms: slope of the imaginary part
     * @param points one point per take
     */
    public record Band(double frequencyHz, double resistanceOhm, double reactanceOhm, List<Point> points) {
        /**
         * Copies the list.
         *
         * @throws IllegalArgumentException without points
         */
        public Band {
            points = List.copyOf(points);
            if (points.isEmpty()) {
                throw new IllegalArgumentException(
                        "the band at " + frequencyHz + " Hz has no point; leave the band out");
            }
        }
    }

    /**
     * One take in one band.
     *
     * @param load the load in words, for example {@code 150 Ω} or {@code open}
     * @param admittanceMilliSiemens real part of the load admittance, input included, in millisiemens
     * @param real real part of normalised 1/D
     * @param imaginary imaginary part of normalised 1/D
     * @param u95 95 % expanded uncertainty of each part; zero or NaN for none
     * @param outlying true for a take that does not fit the others
     */
    public record Point(
            String load, double admittanceMilliSiemens, double real, double imaginary, double u95, boolean outlying) {}
}
