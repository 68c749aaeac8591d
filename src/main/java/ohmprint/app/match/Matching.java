package ohmprint.app.match;

import ohmprint.app.BadInputException;
import ohmprint.app.match.LoadPrediction.Answer;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.InputNoise;
import ohmprint.circuit.LeastLoad;
import ohmprint.circuit.LoadedCurve;
import ohmprint.circuit.SourceCurve;
import ohmprint.circuit.ThermalNoise;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PredictedValue;
import ohmprint.session.Assumed;
import org.jspecify.annotations.Nullable;

/**
 * A curve ready to be matched: no files, no state, the same answer for the same question. One load takes well below a
 * millisecond per hundred bands.
 */
public final class Matching {
    /** Loss that the least load is asked for, dB. */
    static final double LOSS_LIMIT_DB = 1;

    /** Tilt that the least load is asked for, dB. */
    static final double TILT_LIMIT_DB = 0.5;

    private static final double TEN_TIMES = 10;
    private static final String EXACT = " ± 0 %";

    private final SourceCurve source;
    private final MatchRequest.Line line;
    private final MatchRequest.@Nullable Sound sound;
    private final double kelvin;

    private Matching(SourceCurve source, MatchRequest.Line line, MatchRequest.@Nullable Sound sound, double kelvin) {
        this.source = source;
        this.line = line;
        this.sound = sound;
        this.kelvin = kelvin;
    }

    /**
     * Makes a curve ready.
     *
     * @param curve the curve
     * @param range the frequencies that worst cases are taken from
     * @param line what lies between microphone and input
     * @param sound the microphone and what it hears, or null when levels are not asked for
     * @param celsius temperature in °C
     * @throws BadInputException if the curve says nothing in the range, or no level can follow from it
     */
    public static Matching of(
            ImpedanceCurve curve,
            MatchRequest.Range range,
            MatchRequest.Line line,
            MatchRequest.@Nullable Sound sound,
            double celsius)
            throws BadInputException {
        if (sound != null && curve.parallelWithInput()) {
            throw new BadInputException("level and noise need the source impedance alone, but this curve is that of the"
                    + " microphone in parallel with an unknown recording input; state the input in the session and"
                    + " measure again, or leave out the sensitivity");
        }
        try {
            SourceCurve source = SourceCurve.of(curve, range.fromHz(), range.toHz());
            return new Matching(source, line, sound, celsius + ThermalNoise.ZERO_CELSIUS);
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * What a load does, for a slider: a resistance with a capacitance, both exact, behind the line.
     *
     * @param load resistance and capacitance
     * @param electronics what follows it
     * @throws BadInputException if a value is not possible
     */
    public LoadPrediction into(MatchRequest.Load load, Electronics electronics) throws BadInputException {
        try {
            return into(MatchInput.ofOhms(load.ohm(), load.pf(), line.phantomFeeds(), electronics));
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /** What an input does. */
    LoadPrediction into(MatchInput input) {
        return predict(input, input.name(), input.gainDb(), input.electronics().noise(kelvin));
    }

    /** What a booster does that drives an input; the microphone sees the booster alone. */
    LoadPrediction into(MatchInput booster, MatchInput next) {
        double output = booster.outputOhm();
        double divided = source.hasReference()
                ? 20
                        * Math.log10(next.impedance()
                                .admittance(FrequencyBands.REFERENCE_HZ)
                                .multiply(output)
                                .add(1)
                                .abs())
                : 0;
        Double own = booster.gainDb();
        Double further = next.gainDb();
        double driving = own == null ? Double.NaN : own - divided;
        InputNoise noise = booster.electronics()
                .noise(kelvin)
                .followedBy(driving, output, next.electronics().noise(kelvin));
        return predict(
                booster,
                booster.name() + " → " + next.name(),
                own == null || further == null ? null : driving + further,
                noise);
    }

    private LoadPrediction predict(MatchInput input, String name, @Nullable Double gainDb, InputNoise noise) {
        InputImpedance load = input.through(line, Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT);
        LoadedCurve loaded = LoadedCurve.of(source, load);
        PredictedValue ratio = loaded.leastRatio();
        return new LoadPrediction(
                name,
                load.label().replace(EXACT, ""),
                input.ohm(),
                loaded.losses(),
                loaded.changes(),
                loaded.worstLoss(),
                loaded.lossAtReference(),
                loaded.tilt(),
                loaded.largestChange(),
                ratio,
                Answer.atLeast(TEN_TIMES, ratio),
                sound == null ? null : LevelPrediction.of(loaded, sound, gainDb, noise, kelvin));
    }

    /** The least resistance behind this line that keeps the loss within 1 dB. */
    public LeastResistance leastForLoss() {
        return least(LeastLoad.search(source, this::resistance, LoadedCurve::worstLoss, LOSS_LIMIT_DB));
    }

    /** The least resistance behind this line that keeps the tilt within 0.5 dB. */
    public LeastResistance leastForTilt() {
        return least(LeastLoad.search(source, this::resistance, LoadedCurve::tilt, TILT_LIMIT_DB));
    }

    private InputImpedance resistance(double ohm) {
        return MatchInput.ofOhms(ohm, 0, line.phantomFeeds(), Electronics.UNKNOWN)
                .through(line, Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT);
    }

    private static LeastResistance least(LeastLoad found) {
        return new LeastResistance(found.ohm(), found.upToOhm(), found.isAny());
    }

    /** Ten times the greatest |Z| of the range, ohms, and where that is. */
    public PredictedValue tenTimes() {
        return source.tenTimes();
    }

    /** What is known within the range. */
    public Coverage coverage() {
        return new Coverage(
                source.lowestHz(),
                source.highestHz(),
                source.bandCount(),
                source.gaps(),
                source.bounded(),
                source.unsigned(),
                source.hasReference());
    }

    /**
     * The least input resistance that keeps a limit.
     *
     * @param ohm it, in ohms, or bounds of it; nothing when no load keeps the limit
     * @param upToOhm highest resistance that still keeps it, infinite without such a one
     * @param any true when every load of 1 Ω or more keeps it
     */
    public record LeastResistance(PredictedValue ohm, double upToOhm, boolean any) {}

    /**
     * What is known within a range.
     *
     * @param lowestHz lowest midband about which something is known
     * @param highestHz highest such
     * @param bands number of bands between, both included
     * @param gaps bands among them about which nothing is known
     * @param bounded bands among them of which only bounds are known
     * @param unsigned bands among them of which the sign of X is not known
     * @param reference whether something is known at 1 kHz
     */
    public record Coverage(
            double lowestHz, double highestHz, int bands, int gaps, int bounded, int unsigned, boolean reference) {}
}
