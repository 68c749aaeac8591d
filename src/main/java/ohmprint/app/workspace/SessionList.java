package ohmprint.app.workspace;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.List;
import ohmprint.exchange.CurveJson;
import ohmprint.files.FileStamp;
import ohmprint.impedance.Usability;
import ohmprint.session.Session;
import org.jspecify.annotations.Nullable;

/**
 * A few words about each of many sessions. What was said of one is remembered until a file of its folder looks different,
 * be it manifest, take or result: looking at all files of a folder costs a hundredth of reading them.
 */
public final class SessionList {
    /** Some hundred bytes each. */
    private static final int MOST = 1 << 14;
    /** Folders below one of a session that are looked at; of deeper ones nothing is remembered. */
    private static final int DEEPEST = 8;

    private final PathGuard places;
    private final RecentlyUsed<Path, Known> known = new RecentlyUsed<>(MOST);

    /** What was said, and what the folder looked like before it was read. */
    private record Known(FileStamp stamp, Line line) {}

    SessionList(PathGuard places) {
        this.places = places;
    }

    /**
     * A session in a few words.
     *
     * @param name name of its folder
     * @param label label of the microphone, or null when the manifest does not tell
     * @param takes number of takes
     * @param loads their loads in words
     * @param hasCurve whether it has been measured
     * @param verdict how far the curve can be trusted, or null without one
     * @param problem what is wrong with it, or null
     * @param changedAt when manifest or result changed last, ISO 8601
     */
    public record Line(
            String name,
            @Nullable String label,
            int takes,
            List<String> loads,
            boolean hasCurve,
            @Nullable String verdict,
            @Nullable String problem,
            String changedAt) {}

    /** One line for each folder of a session, in their order. */
    List<Line> of(List<Path> folders) throws IOException {
        try {
            return folders.parallelStream().map(this::of).toList();
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    private Line of(Path folder) {
        try {
            FileStamp stamp = FileStamp.ofAllIn(folder, DEEPEST);
            Known last = known.get(folder);
            if (last != null && last.stamp().holds(stamp)) {
                return last.line();
            }
            Line line = read(folder);
            known.put(folder, new Known(stamp, line));
            return line;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Reads a session; of its curve only the verdict. */
    private Line read(Path folder) throws IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session session = manifest.session();
        Path result = CurveRepository.file(folder);
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
        return new Line(
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
}
