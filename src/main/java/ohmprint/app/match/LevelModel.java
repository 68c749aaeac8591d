package ohmprint.app.match;

import ohmprint.circuit.AudioLevel;
import ohmprint.circuit.InputNoise;
import ohmprint.circuit.LoadedCurve;
import ohmprint.circuit.LoadedNoise;
import ohmprint.curve.PredictedValue;
import org.jspecify.annotations.Nullable;

/**
 * Level and noise at one input: {@code U = M·p·|T|} at 1 kHz with {@code p = 20 µPa·10^{L/20}}, against the gain of what
 * follows.
 *
 * @param sound the microphone and what it hears
 * @param gainDb greatest gain of all stages together, or null
 * @param noise noise of all stages together, referred to the first input
 * @param kelvin temperature
 */
record LevelModel(MatchRequest.Sound sound, @Nullable Double gainDb, InputNoise noise, double kelvin) {
    private static final double MILLI = 1e-3;
    private static final double DB_PER_NEPER = 20 / Math.log(10);

    LevelPrediction of(LoadedCurve loaded) {
        double openVolt = sound.sensitivityMv() * MILLI;
        double openDbu = AudioLevel.dbu(openVolt * AudioLevel.pascal(sound.splDb()));
        PredictedValue loss = loaded.lossAtReference();
        PredictedValue level = shifted(negated(loss), openDbu);
        PredictedValue needed = shifted(negated(level), sound.targetDbu());
        PredictedValue spare = gainDb == null ? PredictedValue.none(Double.NaN) : shifted(negated(needed), gainDb);
        LoadedNoise flat = LoadedNoise.flat(loaded, noise, kelvin);
        LoadedNoise weighted = LoadedNoise.weighted(loaded, noise, kelvin);
        return new LevelPrediction(
                widened(level),
                millivolt(widened(level)),
                widened(needed),
                gainDb,
                widened(spare),
                Answer.atLeast(0, widened(spare)),
                flat.thermalDbu(),
                flat.totalDbu(),
                weighted.totalDbu(),
                widened(flat.equivalentSplDb(openVolt)),
                widened(weighted.equivalentSplDb(openVolt)),
                weighted.penaltyDb(),
                flat.coveredHz());
    }

    /** With the tolerance of the sensitivity, half-width of a rectangular distribution. */
    private PredictedValue widened(PredictedValue db) {
        double u = PredictedValue.COVERAGE * sound.toleranceDb() / Math.sqrt(3);
        return new PredictedValue(db.value(), Math.hypot(db.u95(), u), db.low() - u, db.high() + u, db.hz());
    }

    private static PredictedValue negated(PredictedValue p) {
        return new PredictedValue(-p.value(), p.u95(), -p.high(), -p.low(), p.hz());
    }

    private static PredictedValue shifted(PredictedValue p, double by) {
        return new PredictedValue(p.value() + by, p.u95(), p.low() + by, p.high() + by, p.hz());
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
