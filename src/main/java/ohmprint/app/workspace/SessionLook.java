package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.StoredCurve;
import ohmprint.app.record.PlannedLoads;
import ohmprint.curve.Provenance.TakeOrigin;
import ohmprint.curve.Usability;
import ohmprint.exchange.CurveJson;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/** Looks at the folder of a session. */
final class SessionLook {
    private static final double SAME = 1e-9;

    private final String name;
    private final Path folder;
    private final Places places;
    private final Curves curves;
    private @Nullable String curveProblem;

    SessionLook(String name, Path folder, Places places, Curves curves) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.curves = curves;
    }

    /** All of it. */
    SessionView view(long revision, @Nullable RecorderView recorder) throws IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session session = manifest.session();
        Set<String> named = new HashSet<>();
        if (session != null) {
            session.takes().forEach(t -> named.add(t.file()));
            if (session.stimulus() != null && session.stimulus().file() != null) {
                named.add(session.stimulus().file());
            }
        }
        StoredCurve curve = curve();
        return new SessionView(
                name,
                folder.toString(),
                session == null ? null : MicrophoneForm.of(session.microphone()),
                session == null ? null : InputForm.of(session),
                session == null || session.stimulus() == null ? null : StimulusForm.of(session.stimulus()),
                session == null
                        ? List.of()
                        : session.takes().stream().map(TakeForm::of).toList(),
                AudioFileView.in(folder, places, named),
                session == null && manifest.problem() != null ? List.of() : planned(),
                manifest.problem() == null ? curveProblem : manifest.problem(),
                curve != null,
                curve != null && isOutdated(session, folder, curve),
                revision,
                recorder);
    }

    /** A few words about a session; of its curve only the verdict is read. */
    static WorkspaceView.Listed listed(Path folder, Places places) throws IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session session = manifest.session();
        Path result = Curves.file(folder);
        Usability verdict = null;
        String curveProblem = null;
        if (places.holds(result)) {
            try {
                verdict = CurveJson.verdict(result);
            } catch (IOException e) {
                // One session must not keep the others from being listed.
                curveProblem = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
            }
        }
        FileTime changed = Files.getLastModifiedTime(folder.resolve(Session.MANIFEST));
        if (verdict != null) {
            FileTime measured = Files.getLastModifiedTime(result);
            changed = measured.compareTo(changed) > 0 ? measured : changed;
        }
        return new WorkspaceView.Listed(
                String.valueOf(folder.getFileName()),
                session == null ? null : session.microphone().label(),
                session == null ? 0 : session.takes().size(),
                session == null
                        ? List.of()
                        : session.takes().stream().map(t -> t.load().label()).toList(),
                verdict != null,
                verdict == null ? null : verdict.word(),
                manifest.problem() == null ? curveProblem : manifest.problem(),
                changed.toInstant().toString());
    }

    /** The curve, or null when there is none that can be read: one file must not take the whole workspace with it. */
    private @Nullable StoredCurve curve() {
        try {
            return Files.isRegularFile(Curves.file(folder)) ? curves.stored(Curves.ofSession(name)) : null;
        } catch (BadInputException | IOException e) {
            curveProblem = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
            return null;
        }
    }

    private List<Ohms> planned() throws IOException {
        try {
            return PlannedLoads.read(folder).stream().map(Ohms::new).toList();
        } catch (BadInputException e) {
            return List.of();
        }
    }

    /** Whether manifest or takes are other ones than those that were measured, by names, values and times of change. */
    static boolean isOutdated(@Nullable Session session, Path folder, StoredCurve curve) throws IOException {
        if (session == null) {
            return true;
        }
        List<TakeOrigin> measured = curve.measurement().provenance().takes();
        if (!session.microphone().equals(curve.measurement().microphone())
                || !session.input()
                        .label()
                        .equals(curve.measurement().provenance().input())
                || measured.size() != session.takes().size()) {
            return true;
        }
        FileTime then = Files.getLastModifiedTime(Curves.file(folder));
        for (int k = 0; k < measured.size(); k++) {
            Take take = session.takes().get(k);
            Path file = session.path(take);
            if (!same(take, measured.get(k))
                    || !Files.exists(file)
                    || Files.getLastModifiedTime(file).compareTo(then) > 0) {
                return true;
            }
        }
        return false;
    }

    private static boolean same(Take take, TakeOrigin origin) {
        double tolerance = take.load().isOpen()
                ? 0
                : take.load().isMeasured()
                        ? 100 * take.load().relativeStandardUncertainty()
                        : take.load().tolerancePercent();
        return take.file().equals(origin.file().file())
                && (take.load().ohm() == origin.loadOhm()
                        || Math.abs(take.load().ohm() / origin.loadOhm() - 1) < SAME)
                && Math.abs(tolerance - origin.loadTolerancePercent()) < SAME
                && take.channel() == origin.channel()
                && Objects.equals(take.referenceChannel(), origin.referenceChannel());
    }
}
