package ohmprint.impedance;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How well three or more takes agree with each other and with what was entered.
 *
 * <p>The takes contradict each other where an octave leaves over more than {@value #MOST_LEFT_OVER} times its noise and more
 * than chance explains, or the fitted levels, delays, loads and input are farther from what was entered than chance explains
 * ({@code p < 0.0001}). Octaves are judged one by one: tens of thousands of bins in the treble hide a contradiction of the bass
 * in the sum. What the thresholds rest on is in {@code src/site/markdown/decisions/shared-errors.md}.
 *
 * @param takes what all takes leave over when every bin has an impedance of its own, against the noise of the silence; null
 *     where nothing was fitted to all bands
 * @param entered how far the fitted levels, delays, loads and input depart from what was entered, against its uncertainty, in
 *     the directions that the takes tell; null where nothing was fitted to all bands or the takes tell none
 * @param bands what each band leaves over against the noise of the silence; null where a band was not fitted
 * @param octaves the first, octave by octave, ascending, by the median of parts of a twelfth; none where nothing was fitted to all bands, or in files of old
 * @param setAside whether a fit to all bands was set aside because it does not fit, or came to no end
 */
public record Consistency(
        @Nullable ChiSquare takes,
        @Nullable ChiSquare entered,
        List<? extends @Nullable ChiSquare> bands,
        List<Octave> octaves,
        boolean setAside) {
    /** What an octave may leave over, relative to its noise: strong hum leaves 7. */
    private static final double MOST_LEFT_OVER = 10;
    /** Probability below which chance does not explain what an octave leaves over; noise is never exactly as in the silence. */
    private static final double NO_CHANCE = 1e-6;
    /** Probability below which chance does not explain how far the session is from what was entered. */
    private static final double HARDLY_CHANCE = 1e-4;

    /**
     * What one octave leaves over.
     *
     * @param frequencyHz its middle
     * @param left what is left over
     */
    public record Octave(double frequencyHz, ChiSquare left) {}

    /** Copies the lists. */
    public Consistency {
        bands = Collections.unmodifiableList(new ArrayList<>(bands));
        octaves = List.copyOf(octaves);
    }

    /** A consistency without octaves, as files of older versions hold it. */
    public Consistency(
            @Nullable ChiSquare takes, @Nullable ChiSquare entered, List<? extends @Nullable ChiSquare> bands) {
        this(takes, entered, bands, List.of(), false);
    }

    /** The octaves that contradict what was entered. */
    public List<Octave> contradicting() {
        return octaves.stream()
                .filter(o -> o.left().ratio() > MOST_LEFT_OVER && o.left().pValue() < NO_CHANCE)
                .toList();
    }

    /** Whether levels, delays, loads and input together are farther from what was entered than chance explains. */
    public boolean isEnteredRefuted() {
        return entered != null && !(entered.pValue() >= HARDLY_CHANCE);
    }

    /** Whether the takes contradict each other or what was entered. */
    public boolean isContradicted() {
        return setAside || isEnteredRefuted() || !contradicting().isEmpty();
    }
}
