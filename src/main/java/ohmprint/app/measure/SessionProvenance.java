package ohmprint.app.measure;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.Version;
import ohmprint.circuit.Dual;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.StatedInput;
import ohmprint.curve.Provenance;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/** Where a curve comes from: program, time, input, and each take with its load, its delay and its drift. */
final class SessionProvenance {
    private SessionProvenance() {}

    /**
     * The origin.
     *
     * @param subject what the session measures
     * @param seen what the takes hold
     * @param leftOut for each take whether the curve does without it
     * @param fingerprints of the takes in their order, then that of the stimulus where there is one
     */
    static Provenance of(
            Session session, Subject subject, Observation seen, boolean[] leftOut, List<String> fingerprints) {
        List<Provenance.TakeOrigin> origins = new ArrayList<>();
        for (int k = 0; k < leftOut.length; k++) {
            Take take = session.takes().get(k);
            origins.add(new Provenance.TakeOrigin(
                    new Provenance.FileOrigin(take.file(), fingerprints.get(k)),
                    subject.ohm(take.load().ohm()),
                    take.load().isOpen() ? 0 : tolerance(take),
                    take.channel(),
                    take.referenceChannel(),
                    seen.delaySamples()[k],
                    seen.driftDb()[k],
                    seen.clockPpm()[k],
                    leftOut[k]));
        }
        Provenance.@Nullable FileOrigin stimulus = null;
        if (session.stimulus() != null && session.stimulus().file() != null) {
            stimulus = new Provenance.FileOrigin(session.stimulus().file(), fingerprints.get(leftOut.length));
        }
        return new Provenance(
                Version.current(),
                Instant.now().truncatedTo(ChronoUnit.SECONDS),
                subject == Subject.INPUT
                        ? generator(session.input())
                        : session.input().label(),
                origins,
                stimulus);
    }

    private static String generator(InputImpedance dual) {
        return dual instanceof StatedInput stated
                ? CurveFindings.ohms(Dual.ohm(stated.ohm())) + " ± " + stated.tolerancePercent() + " %"
                : dual.label();
    }

    private static double tolerance(Take take) {
        return take.load().isMeasured()
                ? 100 * take.load().relativeStandardUncertainty()
                : take.load().tolerancePercent();
    }
}
