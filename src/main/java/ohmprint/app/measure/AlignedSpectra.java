package ohmprint.app.measure;

import java.util.IdentityHashMap;
import java.util.List;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Route;
import ohmprint.session.Take;

/**
 * What the takes hold, seen along the route that was taken.
 *
 * @param route the route
 * @param reason why it was taken, in words
 * @param takes the takes that can be compared, with what they hold
 * @param figures what was seen of each of them on the way; by identity
 * @param delayUncertainty standard uncertainty of what is left of the delays, seconds
 * @param timed whether the delays of all takes could be told to half a sample
 * @param findings what was noticed on the way
 */
record AlignedSpectra(
        Route route,
        String reason,
        TakeSet takes,
        IdentityHashMap<Take, Figures> figures,
        double delayUncertainty,
        boolean timed,
        List<Finding> findings) {
    /**
     * What was seen of one take; NaN where it is not known.
     *
     * @param delaySamples delay of its sound behind that of the pivot, samples
     * @param driftDb level of the source relative to that in the first take, dB
     * @param clockPpm how much faster the recorder's clock was than the player's, parts per million, where it was corrected
     */
    record Figures(double delaySamples, double driftDb, double clockPpm) {
        static final Figures UNKNOWN = new Figures(Double.NaN, Double.NaN, Double.NaN);
    }

    /** What was seen of a take of the session. */
    Figures of(Take take) {
        return figures.getOrDefault(take, Figures.UNKNOWN);
    }
}
