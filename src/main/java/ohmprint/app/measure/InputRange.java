package ohmprint.app.measure;

import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.curve.FrequencyBands;
import ohmprint.session.Session;

/** Whether the recording input is known wherever it is needed. */
final class InputRange {
    private InputRange() {}

    /**
     * Checks that a measured input covers the bands.
     *
     * @throws BadInputException naming both ranges
     */
    static void check(Session session, FrequencyBands bands) throws BadInputException {
        double low = bands.lowerEdge(0);
        double high = bands.upperEdge(bands.size() - 1);
        if (low < session.input().lowestHz() || high > session.input().highestHz()) {
            throw new BadInputException(String.format(
                    Locale.ROOT,
                    "the input curve %s is known from %.0f to %.0f Hz, the bands reach from %.0f to %.0f Hz; narrow them with"
                            + " --from and --to or measure the input further",
                    session.inputCurveFile(),
                    session.input().lowestHz(),
                    session.input().highestHz(),
                    low,
                    high));
        }
    }
}
