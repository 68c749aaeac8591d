package ohmprint.app.match;

import ohmprint.curve.PredictedValue;
import org.jspecify.annotations.Nullable;

/**
 * Level and noise with one input, all at the input that the microphone is plugged into. What is not known is nothing or
 * null.
 *
 * @param levelDbu level in dBu of a tone of 1 kHz at the stated sound pressure
 * @param millivolt the same in mV
 * @param neededGainDb gain that brings it to the target
 * @param availableGainDb greatest gain there is, all stages together, or null
 * @param spareGainDb what is left of it; negative is what it falls short by
 * @param enough whether it suffices
 * @param thermalDbu thermal noise of source and load, dBu
 * @param totalDbu the same with the noise of the electronics, dBu
 * @param totalADbu the same through weighting A
 * @param equivalentDb equivalent noise level in dB SPL, unweighted
 * @param equivalentADb equivalent noise level in dB SPL through weighting A
 * @param penaltyDb what the load costs in signal over noise through weighting A, against no load at all
 * @param coveredHz bandwidth over which noise is counted, hertz
 */
public record LevelPrediction(
        PredictedValue levelDbu,
        PredictedValue millivolt,
        PredictedValue neededGainDb,
        @Nullable Double availableGainDb,
        PredictedValue spareGainDb,
        Answer enough,
        PredictedValue thermalDbu,
        PredictedValue totalDbu,
        PredictedValue totalADbu,
        PredictedValue equivalentDb,
        PredictedValue equivalentADb,
        PredictedValue penaltyDb,
        double coveredHz) {}
