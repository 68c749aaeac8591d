package ohmprint.app.match;

import ohmprint.app.match.LoadPrediction.Answer;
import ohmprint.circuit.AudioLevel;
import ohmprint.circuit.InputNoise;
import ohmprint.circuit.LoadedCurve;
import ohmprint.circuit.LoadedNoise;
import ohmprint.impedance.PredictedValue;
import ohmprint.uncertainty.CoverageFactor;
import ohmprint.uncertainty.ToleranceFactor;
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
        double coveredHz) {
    private static final double MILLI = 1e-3;
    private static final double DB_PER_NEPER = 20 / Math.log(10);

    /**
     * Level and noise at one input: {@code U = M·p·|T|} at 1 kHz with {@code p = 20 µPa·10^{L/20}}, against the gain of what
     * follows.
     *
     * @param loaded the microphone with its load
     * @param sound its sensitivity and what it hears
     * @param gainDb greatest gain of all stages together, or null
     * @param noise noise of all stages together, referred to the first input
     * @param kelvin temperature
     */
    static LevelPrediction of(
            LoadedCurve loaded, MatchRequest.Sound sound, @Nullable Double gainDb, InputNoise noise, double kelvin) {
        double a = sound.toleranceDb();
        double openVolt = sound.sensitivityMv() * MILLI;
        double openDbu = AudioLevel.dbu(openVolt * AudioLevel.pascal(sound.splDb()));
        PredictedValue loss = loaded.lossAtReference();
        PredictedValue level = loss.negated().plus(openDbu);
        PredictedValue needed = level.negated().plus(sound.targetDbu());
        PredictedValue spare = gainDb == null
                ? PredictedValue.none(Double.NaN)
                : needed.negated().plus(gainDb);
        LoadedNoise flat = LoadedNoise.flat(loaded, noise, kelvin);
        LoadedNoise weighted = LoadedNoise.weighted(loaded, noise, kelvin);
        return new LevelPrediction(
                widened(level, a),
                millivolt(widened(level, a)),
                widened(needed, a),
                gainDb,
                widened(spare, a),
                Answer.atLeast(0, widened(spare, a)),
                flat.thermalDbu(),
                flat.totalDbu(),
                weighted.totalDbu(),
                widened(flat.equivalentSplDb(openVolt), a),
                widened(weighted.equivalentSplDb(openVolt), a),
                weighted.penaltyDb(),
                flat.coveredHz());
    }

    /**
     * With the tolerance of the sensitivity, anywhere within ± a: alone it gives ± 0.95·a. Bounds move by all of it. Source:
     * JCGM 100:2008, 4.3.7; JCGM 101:2008, 6.4.2.
     */
    private static PredictedValue widened(PredictedValue db, double a) {
        double rectangular = a / Math.sqrt(3);
        double u = Math.hypot(db.u95() / CoverageFactor.NORMAL, rectangular);
        double u95 = a > 0 && u > 0 ? u * ToleranceFactor.of(new double[] {rectangular}, 1, u) : db.u95();
        return new PredictedValue(db.value(), u95, db.low() - a, db.high() + a, db.hz());
    }

    private static PredictedValue millivolt(PredictedValue dbu) {
        double mv = AudioLevel.volt(dbu.value()) / MILLI;
        return new PredictedValue(
                mv,
                mv * dbu.u95() / DB_PER_NEPER,
                AudioLevel.volt(dbu.low()) / MILLI,
                AudioLevel.volt(dbu.high()) / MILLI,
                dbu.hz());
    }
}
