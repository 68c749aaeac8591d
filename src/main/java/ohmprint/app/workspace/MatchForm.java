package ohmprint.app.workspace;

import ohmprint.app.BadInputException;
import ohmprint.app.match.Electronics;
import ohmprint.app.match.MatchRequest;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;

/**
 * What a microphone is to be plugged into; what is null is left out.
 *
 * @param curve the curve, {@code session:NAME} or {@code library:ID}
 * @param loadOhm resistance of the input in ohms
 * @param capacitancePf capacitance across it in picofarads
 * @param cableM length of the cable in metres
 * @param cablePfPerM its capacitance in picofarads per metre
 * @param phantomFeeds whether the feed resistors of a phantom supply lie across the input
 * @param sensitivityMv open-circuit sensitivity in mV/Pa; null when levels are not asked for
 * @param splDb sound pressure level of the source, dB; null for 94 dB
 * @param preamplifier gain and noise of what follows
 */
public record MatchForm(
        @Nullable String curve,
        @Nullable Double loadOhm,
        @Nullable Double capacitancePf,
        @Nullable Double cableM,
        @Nullable Double cablePfPerM,
        @Nullable Boolean phantomFeeds,
        @Nullable Double sensitivityMv,
        @Nullable Double splDb,
        @Nullable Preamplifier preamplifier) {
    private static final double USUAL_PF_PER_M = 100;
    private static final double MOST = 1e9;

    /**
     * What follows the input.
     *
     * @param gainDb its greatest gain in decibels, or null
     * @param einDbu equivalent input noise in dBu, or null
     */
    public record Preamplifier(
            @Nullable Double gainDb, @Nullable Double einDbu) {}

    /** The name of the curve. */
    String ref() throws BadInputException {
        if (curve == null) {
            throw new BadInputException("no curve is named; name one as session:NAME or library:ID");
        }
        return curve;
    }

    MatchRequest.Load load() throws BadInputException {
        if (loadOhm == null || !(loadOhm > 0) || !Permitted.OHM.holds(loadOhm)) {
            throw new BadInputException("the load is " + (loadOhm == null ? "missing" : loadOhm + " Ω")
                    + "; give a resistance from " + Permitted.OHM.words());
        }
        return new MatchRequest.Load(loadOhm, atLeast0(capacitancePf, 0, "capacitance", "pF"));
    }

    MatchRequest.Line line() throws BadInputException {
        return new MatchRequest.Line(
                atLeast0(cableM, 0, "length of the cable", "m"),
                atLeast0(cablePfPerM, USUAL_PF_PER_M, "capacitance of the cable", "pF/m"),
                Boolean.TRUE.equals(phantomFeeds));
    }

    MatchRequest.@Nullable Sound sound() throws BadInputException {
        if (sensitivityMv == null) {
            return null;
        }
        if (!(sensitivityMv > 0) || sensitivityMv > MOST) {
            throw new BadInputException(
                    "the sensitivity is " + sensitivityMv + " mV/Pa; give a number above 0, such as 1.5");
        }
        double spl = splDb == null ? MatchRequest.Sound.USUAL_SPL_DB : splDb;
        if (!(spl >= -20 && spl <= 200)) {
            throw new BadInputException("the sound pressure level is " + spl + " dB; give it from -20 to 200 dB");
        }
        return new MatchRequest.Sound(sensitivityMv, 0, spl, MatchRequest.Sound.USUAL_TARGET_DBU);
    }

    Electronics electronics() {
        return preamplifier == null
                ? Electronics.UNKNOWN
                : new Electronics(preamplifier.gainDb(), preamplifier.einDbu(), null, null, null);
    }

    private static double atLeast0(@Nullable Double given, double otherwise, String what, String unit)
            throws BadInputException {
        double value = given == null ? otherwise : given;
        if (!(value >= 0 && value <= MOST)) {
            throw new BadInputException("the " + what + " is " + value + " " + unit + "; give 0 " + unit + " or more");
        }
        Permitted permitted = Permitted.ofUnit(unit);
        if (value != 0 && permitted != null && !permitted.holds(value)) {
            throw new BadInputException(
                    "the " + what + " is " + value + " " + unit + "; give 0 or a number from " + permitted.words());
        }
        return value;
    }
}
