package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchCurve;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.app.match.Matching;
import ohmprint.impedance.Permitted;
import org.jspecify.annotations.Nullable;

/** What loads do to curves, quickly enough for a control that is dragged: curves that were asked for are kept ready. */
public final class LoadControl {
    private static final String INPUTS = "inputs.yaml";
    private static final int KEPT = 16;

    private final PathGuard places;
    private final CurveRepository curves;
    private final RecentlyUsed<Question, Ready> kept = new RecentlyUsed<>(KEPT);

    /** All but the load. */
    private record Question(String ref, MatchRequest.Line line, MatchRequest.@Nullable Sound sound) {}

    /** A curve with what it was made from. */
    private record Ready(NamedCurve curve, Matching matching) {}

    LoadControl(PathGuard places, CurveRepository curves) {
        this.places = places;
        this.curves = curves;
    }

    /** What a load does. */
    public Effect match(Request form) throws BadInputException, IOException {
        Electronics electronics = form.electronics();
        return new Effect(matching(form).into(form.load(), electronics), electronics.einInWords());
    }

    private Matching matching(Request form) throws BadInputException, IOException {
        Question question = new Question(form.ref(), form.line(), form.sound());
        NamedCurve curve = curves.stored(question.ref());
        Ready ready = kept.get(question);
        if (ready != null && ready.curve().equals(curve)) {
            return ready.matching();
        }
        Matching matching = Matching.of(
                curve.measurement().curve(),
                MatchRequest.Range.AUDIBLE,
                question.line(),
                question.sound(),
                MatchRequest.ROOM_CELSIUS);
        kept.put(question, new Ready(curve, matching));
        return matching;
    }

    /** The inputs of the workshop, which {@code inputs.yaml} there lists, and what a curve asks of any input. */
    public MatchOutcome inputs(String ref) throws BadInputException, IOException {
        Path file = places.rootFile(INPUTS, MatchCurve::curvesNamed);
        MatchRequest usual = MatchRequest.of(ref);
        MatchRequest request = new MatchRequest(
                ref,
                usual.range(),
                List.of(),
                List.of(),
                file,
                usual.line(),
                null,
                usual.preamplifier(),
                null,
                usual.celsius(),
                null,
                false);
        return MatchCurve.of(curves.stored(ref), request);
    }

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
    public record Request(
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
                throw new BadInputException(
                        "the " + what + " is " + value + " " + unit + "; give 0 " + unit + " or more");
            }
            Permitted permitted = Permitted.ofUnit(unit);
            if (value != 0 && permitted != null && !permitted.holds(value)) {
                throw new BadInputException(
                        "the " + what + " is " + value + " " + unit + "; give 0 or a number from " + permitted.words());
            }
            return value;
        }
    }

    /**
     * What a load does to a microphone.
     *
     * @param prediction loss, level and noise
     * @param ein equivalent input noise with the source that it counts as measured with, in words, or null
     */
    public record Effect(
            LoadPrediction prediction, @Nullable String ein) {}
}
