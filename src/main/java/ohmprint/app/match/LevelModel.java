package ohmprint.app.match;

import ohmprint.circuit.AudioLevel;
import ohmprint.circuit.InputNoise;
import ohmprint.circuit.LoadedCurve;
import ohmprint.circuit.LoadedNoise;
import ohmprint.curve.PredictedValue;
import ohmprint.uncertainty.CoverageFactor;
import ohmprint.uncertainty.ToleranceFactor;
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

    /**
     * With the tolerance of the sensitivity, anywhere within ± a: alone it gives ± 0.95·a. Bounds move by all of it. Source:
     * JCGM 100:2008, 4.3.7; JCGM 101:2008, 6.4.2.
     */
    private PredictedValue widened(PredictedValue db) {
        double a = sound.toleranceDb();
        double rectangular = a / Math.sqrt(3);
        double u = Math.hypot(db.u95() / CoverageFactor.NORMAL, rectangular);
        double u95 = a > 0 && u > 0 ? u * ToleranceFactor.of(new double[] {rectangular}, 1, u) : db.u95();
        return new PredictedValue(db.value(), u95, db.low() - a, db.high() + a, db.hz());
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
