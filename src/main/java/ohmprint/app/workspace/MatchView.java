package ohmprint.app.workspace;

import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.app.match.Electronics;
import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.curve.PredictedValue;
import org.jspecify.annotations.Nullable;

/**
 * What a load does to a microphone; arrays have one value per band, NaN where there is none.
 *
 * @param load what lies across the microphone, in words
 * @param frequencyHz midbands in hertz
 * @param lossDb loss in dB
 * @param lossU95Db its 95 % uncertainty
 * @param lossLowDb lower bound where the curve gives no more
 * @param lossHighDb upper bound likewise
 * @param changeDb response change re 1 kHz in dB
 * @param changeU95Db its 95 % uncertainty
 * @param worstLoss greatest loss, and where
 * @param lossAtReference loss at 1 kHz
 * @param tilt greatest less least loss
 * @param leastRatio least ratio of load to source, and where
 * @param tenTimes whether that is ten or more: {@code yes}, {@code no}, {@code undecided} or {@code unknown}
 * @param level level and noise, or null when they were not asked for
 */
public record MatchView(
        String load,
        double[] frequencyHz,
        double[] lossDb,
        double[] lossU95Db,
        double[] lossLowDb,
        double[] lossHighDb,
        double[] changeDb,
        double[] changeU95Db,
        PredictedValue worstLoss,
        PredictedValue lossAtReference,
        PredictedValue tilt,
        PredictedValue leastRatio,
        String tenTimes,
        @Nullable Level level) {
    /**
     * Level and noise, see {@link LevelPrediction}.
     *
     * @param levelDbu level of a tone of 1 kHz, dBu
     * @param millivolt the same in mV
     * @param neededGainDb gain to the level of a line
     * @param enough whether the stated gain suffices
     * @param thermalDbu thermal noise, dBu
     * @param totalDbu noise with that of the electronics, dBu
     * @param ein equivalent input noise with the source that it counts as measured with, in words, or null
     * @param penaltyDb what the load costs in signal over noise
     */
    public record Level(
            PredictedValue levelDbu,
            PredictedValue millivolt,
            PredictedValue neededGainDb,
            String enough,
            PredictedValue thermalDbu,
            PredictedValue totalDbu,
            @Nullable String ein,
            PredictedValue penaltyDb) {
        static Level of(LevelPrediction p, Electronics electronics) {
            return new Level(
                    p.levelDbu(),
                    p.millivolt(),
                    p.neededGainDb(),
                    p.enough().word(),
                    p.thermalDbu(),
                    p.totalDbu(),
                    electronics.einInWords(),
                    p.penaltyDb());
        }
    }

    static MatchView of(LoadPrediction p, Electronics electronics) {
        return new MatchView(
                p.load(),
                each(p.losses(), PredictedValue::hz),
                each(p.losses(), PredictedValue::value),
                each(p.losses(), PredictedValue::u95),
                each(p.losses(), PredictedValue::low),
                each(p.losses(), PredictedValue::high),
                each(p.changes(), PredictedValue::value),
                each(p.changes(), PredictedValue::u95),
                p.worstLoss(),
                p.lossAtReference(),
                p.tilt(),
                p.leastRatio(),
                p.tenTimes().word(),
                p.level() == null ? null : Level.of(p.level(), electronics));
    }

    private static double[] each(List<PredictedValue> values, ToDoubleFunction<PredictedValue> one) {
        double[] out = new double[values.size()];
        Arrays.setAll(out, i -> one.applyAsDouble(values.get(i)));
        return out;
    }
}
