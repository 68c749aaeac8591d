package ohmprint.app.workspace;

import java.nio.file.Path;
import java.util.Arrays;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureRequest;
import ohmprint.curve.Route;
import org.jspecify.annotations.Nullable;

/**
 * How a session is to be measured; what is null is left to the program.
 *
 * @param bands bands per octave
 * @param route {@code auto} or the route to take
 * @param force whether to write a result that the evidence does not support
 */
public record MeasureForm(
        @Nullable Integer bands,
        @Nullable String route,
        @Nullable Boolean force) {
    /** Everything left to the program. */
    public static final MeasureForm USUAL = new MeasureForm(null, null, null);

    MeasureRequest request(Path folder) throws BadInputException {
        MeasureRequest usual = MeasureRequest.of(folder);
        return new MeasureRequest(
                folder, null, bands, wanted(), usual.fromHz(), usual.toHz(), Boolean.TRUE.equals(force));
    }

    private @Nullable Route wanted() throws BadInputException {
        if (route == null || route.equals("auto")) {
            return null;
        }
        return Arrays.stream(Route.values())
                .filter(r -> r.word().equals(route))
                .findFirst()
                .orElseThrow(() -> new BadInputException(
                        "the route is '" + route + "'; choose auto, stimulus, reference, common or power"));
    }
}
