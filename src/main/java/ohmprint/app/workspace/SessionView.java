package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.app.record.Setup;
import ohmprint.circuit.Load;
import ohmprint.impedance.Microphone;
import ohmprint.session.Session;
import org.jspecify.annotations.Nullable;

/**
 * A session as it lies in its folder, and what goes on with it.
 *
 * @param name name of its folder
 * @param folder path of it
 * @param microphone the microphone, or null when the manifest does not tell
 * @param input the recording input, or null likewise
 * @param stimulus what was played, or null
 * @param takes takes in the order of the manifest
 * @param unlisted recordings in the folder that are no takes
 * @param plannedOhm loads that are to be recorded, in order; none when nothing is planned
 * @param problem what is wrong with the manifest or its files, one line each, or null
 * @param hasCurve whether it has been measured
 * @param curveOutdated whether something has changed since
 * @param revision grows with each change
 * @param recorder where its recording stands, or null when none is going on
 */
public record SessionView(
        String name,
        String folder,
        @Nullable Microphone microphone,
        Manifest.@Nullable InputEntry input,
        Manifest.@Nullable StimulusEntry stimulus,
        List<Manifest.TakeEntry> takes,
        List<FolderFiles.AudioFile> unlisted,
        List<ResistanceValue> plannedOhm,
        @Nullable String problem,
        boolean hasCurve,
        boolean curveOutdated,
        long revision,
        Recorder.@Nullable State recorder) {
    /** Looks at a session. */
    static SessionView of(
            String name,
            Path folder,
            PathGuard places,
            CurveRepository curves,
            long revision,
            Recorder.@Nullable State recorder)
            throws IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session session = manifest.session();
        Set<String> named = new HashSet<>();
        if (session != null) {
            session.takes().forEach(t -> named.add(t.file()));
            if (session.stimulus() != null && session.stimulus().file() != null) {
                named.add(session.stimulus().file());
            }
        }
        NamedCurve curve = null;
        String curveProblem = null;
        try {
            curve = Files.isRegularFile(CurveRepository.file(folder))
                    ? curves.stored(CurveRepository.ofSession(name))
                    : null;
        } catch (BadInputException | IOException e) {
            // One file that cannot be read must not take the whole session with it.
            curveProblem = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
        }
        return new SessionView(
                name,
                folder.toString(),
                session == null ? null : session.microphone(),
                session == null ? null : Manifest.InputEntry.of(session),
                session == null || session.stimulus() == null ? null : Manifest.StimulusEntry.of(session.stimulus()),
                session == null
                        ? List.of()
                        : session.takes().stream().map(Manifest.TakeEntry::of).toList(),
                FolderFiles.recordings(folder, places, named),
                session == null && manifest.problem() != null ? List.of() : planned(folder),
                manifest.problem() == null ? curveProblem : manifest.problem(),
                curve != null,
                curve != null && CurveRepository.isOutdated(session, folder, curve),
                revision,
                recorder);
    }

    private static List<ResistanceValue> planned(Path folder) throws IOException {
        try {
            List<Load> loads = Setup.planned(folder);
            return loads == null
                    ? List.of()
                    : loads.stream()
                            .map(load -> new ResistanceValue(load.ohm()))
                            .toList();
        } catch (BadInputException e) {
            return List.of();
        }
    }
}
