package ohmprint.app.measure;

import java.util.List;
import ohmprint.curve.Finding;
import ohmprint.curve.Route;
import ohmprint.estimate.BinObservations;

/**
 * What the takes hold, seen along the route that was taken.
 *
 * @param route the route
 * @param reason why it was taken, in words
 * @param bins what the kept takes hold
 * @param kept indices of the takes that are used, ascending
 * @param delaySamples delay of every take's sound behind that of the pivot, samples, for all takes; NaN if unknown
 * @param driftDb level of the source in every take relative to the first, dB; NaN if unknown
 * @param clockPpm how much faster the recorder's clock was than the player's, parts per million; NaN if not corrected
 * @param delayUncertainty standard uncertainty of what is left of the delays, seconds
 * @param timed whether the delays of all takes could be told to half a sample
 * @param findings what was noticed on the way
 */
record Observation(
        Route route,
        String reason,
        BinObservations bins,
        int[] kept,
        double[] delaySamples,
        double[] driftDb,
        double[] clockPpm,
        double delayUncertainty,
        boolean timed,
        List<Finding> findings) {}
