package ohmprint.app.match;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import org.junit.jupiter.api.io.TempDir;

/** A stored curve and the requests that match it with inputs. */
abstract class CurveToMatch {
    @TempDir
    Path here;

    String stored(Measurement measurement) throws IOException {
        Path file = here.resolve("curve.json");
        Files.writeString(file, CurveJson.write(measurement));
        return file.toString();
    }

    static MatchRequest with(MatchRequest r, MatchRequest.Sound sound, Electronics preamplifier, Path out) {
        return new MatchRequest(
                r.curve(),
                r.range(),
                r.loads(),
                r.inputCurves(),
                r.inputs(),
                r.line(),
                sound,
                preamplifier,
                r.booster(),
                r.celsius(),
                out,
                r.dark());
    }
}
