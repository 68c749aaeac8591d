package ohmprint.estimation;

import java.util.List;
import java.util.Objects;
import ohmprint.estimation.BandSolver.BandFit;
import org.apache.commons.math3.complex.Complex;

/** Fits of whole sets of bins as one band, and their values. */
final class FittedBand {
    private FittedBand() {}

    /** All bins as one band: at the frequency of the only one, or at 1 kHz. */
    static BandFit fit(BinObservations obs, LoadedTakes takes, int order) {
        return Objects.requireNonNull(
                new BandSolver(obs, takes, List.of()).fit(0, obs.size(), obs.size() == 1 ? obs.hz(0) : 1000, order));
    }

    /** R + jX in ohms. */
    static Complex value(BandFit fit) {
        return new Complex(fit.resistanceOhm(), fit.reactanceOhm());
    }
}
