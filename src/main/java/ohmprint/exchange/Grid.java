package ohmprint.exchange;

import java.util.List;
import java.util.stream.IntStream;
import ohmprint.impedance.FrequencyBands;

/** Finds the band grid that a column of frequencies belongs to. */
final class Grid {
    private static final List<Integer> COARSE_TO_FINE = List.of(1, 3, 6, 12, 24);

    /** Relative room at both ends of the range, wider than the rounding of a file and far below a band. */
    private static final double ROOM = 1e-6;

    private Grid() {}

    /** The coarsest grid with exactly these midbands (hertz, at least one). */
    static FrequencyBands of(double[] midbands, String place) throws ExchangeException {
        for (int fraction : COARSE_TO_FINE) {
            if (matches(fraction, midbands)) {
                return within(fraction, midbands);
            }
        }
        throw new ExchangeException(
                place + ": these frequencies are no run of neighbouring IEC 61260-1 midbands of 1, 3, 6, 12 or 24 bands"
                        + " per octave; give every band a row, rejected ones too");
    }

    /** The grid of the given fraction from the first to the last midband (hertz). */
    static FrequencyBands spanning(int fraction, double[] midbands, String place) throws ExchangeException {
        try {
            return within(fraction, midbands);
        } catch (IllegalArgumentException e) {
            throw new ExchangeException(place + ": " + e.getMessage(), e);
        }
    }

    private static FrequencyBands within(int fraction, double[] midbands) {
        return FrequencyBands.within(fraction, midbands[0] * (1 - ROOM), midbands[midbands.length - 1] * (1 + ROOM));
    }

    private static boolean matches(int fraction, double[] midbands) {
        FrequencyBands bands;
        try {
            bands = within(fraction, midbands);
        } catch (IllegalArgumentException e) {
            return false;
        }
        return bands.size() == midbands.length
                && IntStream.range(0, midbands.length)
                        .allMatch(i -> Math.abs(midbands[i] / bands.midband(i) - 1) < ROOM);
    }
}
