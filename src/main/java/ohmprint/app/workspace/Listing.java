package ohmprint.app.workspace;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.files.FileStamp;

/**
 * A few words about each of many sessions. What was said of one is remembered until a file of its folder looks different,
 * be it manifest, take or result: looking at all files of a folder costs a hundredth of reading them.
 */
final class Listing {
    /** Some hundred bytes each. */
    private static final int MOST = 1 << 14;
    /** Folders below one of a session that are looked at; of deeper ones nothing is remembered. */
    private static final int DEEPEST = 8;

    private final Places places;
    private final Map<Path, Known> known = new LinkedHashMap<>(16, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Path, Known> eldest) {
            return size() > MOST;
        }
    };

    /** What was said, and what the folder looked like before it was read. */
    private record Known(FileStamp stamp, WorkspaceView.Listed listed) {}

    Listing(Places places) {
        this.places = places;
    }

    /** The same for folders of sessions, in their order. */
    List<WorkspaceView.Listed> of(List<Path> folders) throws IOException {
        try {
            return folders.parallelStream().map(this::of).toList();
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    private WorkspaceView.Listed of(Path folder) {
        try {
            FileStamp stamp = FileStamp.ofAllIn(folder, DEEPEST);
            synchronized (known) {
                Known last = known.get(folder);
                if (last != null && last.stamp().holds(stamp)) {
                    return last.listed();
                }
            }
            WorkspaceView.Listed listed = SessionLook.listed(folder, places);
            synchronized (known) {
                known.put(folder, new Known(stamp, listed));
            }
            return listed;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
