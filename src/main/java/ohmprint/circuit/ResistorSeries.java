package ohmprint.circuit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Preferred values of resistors: how a decade is divided. Source: IEC 60063:2015 (values from memory).
 *
 * <p>E96 follows {@code 10^(i/96)} rounded to three digits. E12 and E24 are older than that rule and are tabulated: from
 * 27 to 47 and at 82 they are not the rounded powers.
 */
public enum ResistorSeries {
    /** Twelve values per decade. */
    E12(10),
    /** Twenty-four values per decade; holds all of E12. */
    E24(10),
    /** Ninety-six values per decade. */
    E96(100);

    private static final int LOWEST_DECADE = -2;
    private static final int HIGHEST_DECADE = 9;

    /** What the lowest value of a decade is as a whole number. */
    private final int one;

    ResistorSeries(int one) {
        this.one = one;
    }

    /** Significant digits as whole numbers, ascending. */
    private int[] digits() {
        return switch (this) {
            case E12 -> new int[] {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82};
            case E24 ->
                new int[] {
                    10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91
                };
            case E96 ->
                IntStream.range(0, 96)
                        .map(i -> (int) Math.rint(100 * Math.pow(10, i / 96.0)))
                        .toArray();
        };
    }

    /** The significant digits of a decade from 1 to below 10, ascending; a fresh array. */
    public double[] decade() {
        return Arrays.stream(digits()).mapToDouble(d -> d / (double) one).toArray();
    }

    /**
     * All values within a range, both ends included.
     *
     * @param fromOhm lowest value in ohms, positive
     * @param toOhm highest value in ohms
     * @return values in ohms, ascending, from 0.01 Ω to below 10 GΩ at most
     */
    public List<Double> between(double fromOhm, double toOhm) {
        List<Double> out = new ArrayList<>();
        for (int decade = LOWEST_DECADE; decade <= HIGHEST_DECADE; decade++) {
            for (int d : digits()) {
                // One division or multiplication of whole numbers, so that 4.7 is 4.7 and 470 is 470 to the last bit.
                int power = decade - (one == 10 ? 1 : 2);
                double ohm = power < 0 ? d / Math.pow(10, -power) : d * Math.pow(10, power);
                if (ohm >= fromOhm && ohm <= toOhm) {
                    out.add(ohm);
                }
            }
        }
        return out;
    }
}
