package ohmprint.curve;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How well three or more takes agree with each other and with what was entered.
 *
 * @param takes what all takes leave over when every bin has an impedance of its own, against the noise of the silence; null
 *     where nothing was fitted to all bands
 * @param entered how far the fitted levels, delays, loads and input depart from what was entered, against its uncertainty, in
 *     the directions that the takes tell; null where nothing was fitted to all bands or the takes tell none
 * @param bands what each band leaves over against the noise of the silence; null where a band was not fitted
 */
public record Consistency(
        @Nullable ChiSquare takes, @Nullable ChiSquare entered, List<? extends @Nullable ChiSquare> bands) {
    /** Copies the list. */
    public Consistency {
        bands = Collections.unmodifiableList(new ArrayList<>(bands));
    }
}
