package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.TakeReport;
import org.jspecify.annotations.Nullable;

/**
 * Where the recording of a session stands.
 *
 * @param step {@code cautions}, {@code level}, {@code fit}, {@code sounding}, {@code judge} or {@code done}
 * @param trial whether what sounds is the level check
 * @param cautions what has to be read before anything is connected or played
 * @param recorder rate and channels in words
 * @param takeSeconds length of a take in seconds
 * @param remainingOhm loads of the takes to come
 * @param levelOhm load with which the level is set
 * @param nextOhm load of the next take, or null when all are kept
 * @param level what the last level check showed, or null
 * @param take the take that waits for a verdict, or null
 * @param error what went wrong last, in words, or null
 */
public record RecorderView(
        String step,
        boolean trial,
        List<String> cautions,
        String recorder,
        double takeSeconds,
        List<Ohms> remainingOhm,
        Ohms levelOhm,
        @Nullable Ohms nextOhm,
        @Nullable Level level,
        @Nullable Heard take,
        @Nullable String error) {
    /**
     * A level check.
     *
     * @param acceptable whether takes at this level can be used
     * @param clipped whether it clipped: peak and change of the gain are the least that they can be
     * @param peakDbfs highest sample, dBFS
     * @param gainChangeDb suggested change of the gain, dB
     * @param noiseDbfs noise before the sound, dBFS
     * @param signalToNoiseDb median of signal over noise, dB
     * @param predicted uncertainty that is to be expected, or null
     * @param findings what was found
     */
    public record Level(
            boolean acceptable,
            boolean clipped,
            double peakDbfs,
            double gainChangeDb,
            double noiseDbfs,
            double signalToNoiseDb,
            LevelReport.@Nullable Predicted predicted,
            List<FindingView> findings) {
        static Level of(LevelReport r) {
            return new Level(
                    r.acceptable(),
                    r.clipped(),
                    r.peakDbfs(),
                    r.gainChangeDb(),
                    r.noiseDbfs(),
                    r.signalToNoiseDb(),
                    r.predicted(),
                    FindingView.of(r.findings()));
        }
    }

    /**
     * A take as far as it can be told at once.
     *
     * @param number its number in the plan, from 1
     * @param file name it gets when it is kept
     * @param loadOhm its load
     * @param usable whether nothing was found that spoils it
     * @param peakDbfs highest sample, dBFS
     * @param noiseDbfs noise before the sound, dBFS
     * @param stepDb level against the take it was compared to, dB, or null
     * @param comparedTo that take's file, or null
     * @param findings what was found
     */
    public record Heard(
            int number,
            String file,
            Ohms loadOhm,
            boolean usable,
            double peakDbfs,
            double noiseDbfs,
            @Nullable Double stepDb,
            @Nullable String comparedTo,
            List<FindingView> findings) {
        static Heard of(TakeReport r) {
            return new Heard(
                    r.number(),
                    r.file(),
                    new Ohms(r.loadOhm()),
                    r.usable(),
                    r.peakDbfs(),
                    r.noiseDbfs(),
                    r.stepDb(),
                    r.comparedTo(),
                    FindingView.of(r.findings()));
        }
    }
}
