package ohmprint.impedance;

import java.util.Arrays;
import java.util.Set;

/**
 * A run of neighbouring fractional-octave bands: the one frequency grid of the program.
 *
 * <p>Midbands are {@code f_m = f_r·G^(x/b)} for odd b and {@code f_m = f_r·G^((2x+1)/(2b))} for even b, with
 * {@code G = 10^(3/10)} and {@code f_r = 1000 Hz}; band edges are {@code f_m·G^(±1/(2b))}. For even b no band is centred
 * on 1 kHz. Source: IEC 61260-1:2014, clauses 5.2 to 5.5 (formulas recalled from memory).
 */
public final class FrequencyBands {
    /** Octave ratio, base ten: G = 10^(3/10). */
    public static final double OCTAVE_RATIO = Math.pow(10, 0.3);

    /** Reference frequency f_r in hertz. */
    public static final double REFERENCE_HZ = 1000;

    /** The supported fractions b: bands per octave. */
    public static final Set<Integer> FRACTIONS = Set.of(1, 3, 6, 12, 24);

    private final int fraction;
    private final int first;
    private final int count;

    private FrequencyBands(int fraction, int first, int count) {
        this.fraction = fraction;
        this.first = first;
        this.count = count;
    }

    /**
     * All bands whose midband lies within a range, both ends included (to one part in 10⁹).
     *
     * @param fraction bands per octave b, one of {@link #FRACTIONS}
     * @param fromHz lowest midband in hertz, positive
     * @param toHz highest midband in hertz, above {@code fromHz}
     * @throws IllegalArgumentException if the fraction is not supported or no midband lies within the range
     */
    public static FrequencyBands within(int fraction, double fromHz, double toHz) {
        if (!FRACTIONS.contains(fraction)) {
            throw new IllegalArgumentException(
                    "bands per octave must be 1, 3, 6, 12 or 24, not " + fraction + "; choose one of these");
        }
        if (!(fromHz > 0) || !(toHz > fromHz) || Double.isInfinite(toHz)) {
            throw new IllegalArgumentException("a frequency range needs 0 < from < to, not " + fromHz + " Hz to " + toHz
                    + " Hz; give the lower frequency first");
        }
        int first = (int) Math.ceil(position(fraction, fromHz) - 1e-9);
        int last = (int) Math.floor(position(fraction, toHz) + 1e-9);
        if (last < first) {
            throw new IllegalArgumentException("no 1/" + fraction + "-octave midband lies between " + fromHz
                    + " Hz and " + toHz + " Hz; widen the range");
        }
        return new FrequencyBands(fraction, first, last - first + 1);
    }

    /** Bands per octave, b. */
    public int fraction() {
        return fraction;
    }

    /** Number of bands. */
    public int size() {
        return count;
    }

    /** Exact midband frequency of band {@code i} in hertz, {@code 0 ≤ i < size()}. */
    public double midband(int i) {
        checkIndex(i);
        return REFERENCE_HZ * Math.pow(OCTAVE_RATIO, (first + i + offset(fraction)) / fraction);
    }

    /** Lower edge of band {@code i} in hertz: {@code f_m·G^(−1/(2b))}. */
    public double lowerEdge(int i) {
        return midband(i) * Math.pow(OCTAVE_RATIO, -0.5 / fraction);
    }

    /** Upper edge of band {@code i} in hertz: {@code f_m·G^(+1/(2b))}. */
    public double upperEdge(int i) {
        return midband(i) * Math.pow(OCTAVE_RATIO, 0.5 / fraction);
    }

    /** All midbands in hertz, ascending; a fresh array of length {@link #size()}. */
    public double[] midbands() {
        double[] f = new double[count];
        Arrays.setAll(f, this::midband);
        return f;
    }

    /** Where a frequency in hertz lies on a scale on which band {@code i} is at i: {@code b·ln(f/f_m(0))/ln G}. */
    double index(double hz) {
        return position(fraction, hz) - first;
    }

    /** Number of the octave that a frequency in hertz lies in; that about {@link #REFERENCE_HZ} is 0. */
    public static int octave(double hz) {
        return (int) Math.round(position(1, hz));
    }

    /** Midband of an octave by its number, hertz. */
    public static double octaveMidband(int octave) {
        return REFERENCE_HZ * Math.pow(OCTAVE_RATIO, octave);
    }

    private static double offset(int fraction) {
        return fraction % 2 == 0 ? 0.5 : 0;
    }

    /** The real-valued x at which a midband would fall on the given frequency. */
    private static double position(int fraction, double hz) {
        return fraction * Math.log(hz / REFERENCE_HZ) / Math.log(OCTAVE_RATIO) - offset(fraction);
    }

    private void checkIndex(int i) {
        if (i < 0 || i >= count) {
            throw new IndexOutOfBoundsException("band " + i + " of " + count);
        }
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof FrequencyBands b && b.fraction == fraction && b.first == first && b.count == count;
    }

    @Override
    public int hashCode() {
        return (fraction * 31 + first) * 31 + count;
    }

    @Override
    public String toString() {
        return "1/" + fraction + " octave, " + midband(0) + " Hz to " + midband(count - 1) + " Hz";
    }
}
