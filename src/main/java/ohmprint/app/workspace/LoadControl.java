package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.app.BadInputException;
import ohmprint.app.StoredCurve;
import ohmprint.app.match.Electronics;
import ohmprint.app.match.MatchCurve;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.Matching;
import org.jspecify.annotations.Nullable;

/** What loads do to curves, quickly enough for a control that is dragged: curves that were asked for are kept ready. */
public final class LoadControl {
    private static final String INPUTS = "inputs.yaml";
    private static final int KEPT = 16;

    private final Places places;
    private final Curves curves;
    private final Map<Question, Ready> kept = new LinkedHashMap<>(KEPT, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Question, Ready> eldest) {
            return size() > KEPT;
        }
    };

    /** All but the load. */
    private record Question(String ref, MatchRequest.Line line, MatchRequest.@Nullable Sound sound) {}

    /** A curve with what it was made from. */
    private record Ready(StoredCurve curve, Matching matching) {}

    LoadControl(Places places, Curves curves) {
        this.places = places;
        this.curves = curves;
    }

    /** What a load does. */
    public MatchView match(MatchForm form) throws BadInputException, IOException {
        Electronics electronics = form.electronics();
        return MatchView.of(matching(form).into(form.load(), electronics), electronics);
    }

    private Matching matching(MatchForm form) throws BadInputException, IOException {
        Question question = new Question(form.ref(), form.line(), form.sound());
        StoredCurve curve = curves.stored(question.ref());
        synchronized (kept) {
            Ready ready = kept.get(question);
            if (ready != null && ready.curve().equals(curve)) {
                return ready.matching();
            }
        }
        Matching matching = Matching.of(
                curve.measurement().curve(),
                MatchRequest.Range.AUDIBLE,
                question.line(),
                question.sound(),
                MatchRequest.ROOM_CELSIUS);
        synchronized (kept) {
            kept.put(question, new Ready(curve, matching));
        }
        return matching;
    }

    /** The inputs of the workshop, and what a curve asks of any input. */
    public InputsView inputs(String ref) throws BadInputException, IOException {
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
        return InputsView.of(MatchCurve.of(curves.stored(ref), request));
    }
}
