package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.app.Advice;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.StoredCurve;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.ReadLibrary;
import ohmprint.files.FileStamp;
import ohmprint.manifest.ManifestException;
import ohmprint.session.SessionReader;
import org.jspecify.annotations.Nullable;

/** The curves of a workspace by their names: {@code session:NAME} and {@code library:ID}. The last ones are kept ready. */
public final class Curves {
    private static final String SESSION = "session:";
    private static final int KEPT = 32;

    private final Places places;
    private final LibraryPlace library;
    private final Map<String, Kept> kept = new LinkedHashMap<>(KEPT, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Kept> eldest) {
            return size() > KEPT;
        }
    };

    /** A curve with what its file was like when it was read; null for one of the library, which never changes. */
    private record Kept(StoredCurve curve, @Nullable FileStamp stamp) {}

    Curves(Places places, LibraryPlace library) {
        this.places = places;
        this.library = library;
    }

    /** The name of a session's curve. */
    static String ofSession(String name) {
        return SESSION + name;
    }

    /** The file that a session's curve is in. */
    static Path file(Path session) {
        return session.resolve(StoredCurve.IN_A_SESSION);
    }

    /**
     * A curve.
     *
     * @param ref {@code session:NAME} or {@code library:ID}
     * @throws MissingException if there is none
     * @throws BadInputException if the name is none, or the curve cannot be read
     */
    public CurveView view(String ref) throws BadInputException, IOException {
        StoredCurve stored = stored(ref);
        return CurveView.of(ref, stored, isOutdated(ref, stored), advice(ref));
    }

    private boolean isOutdated(String ref, StoredCurve stored) throws BadInputException, IOException {
        if (!ref.startsWith(SESSION)) {
            return false;
        }
        Path folder = places.session(ref.substring(SESSION.length()));
        return SessionLook.isOutdated(Manifest.read(folder, places).session(), folder, stored);
    }

    /** What a name stands for. */
    StoredCurve stored(String ref) throws BadInputException, IOException {
        if (ref.startsWith(LibraryReference.PREFIX)) {
            return ofLibrary(ref);
        }
        Path file = path(ref);
        FileStamp stamp = FileStamp.of(List.of(file));
        synchronized (kept) {
            Kept known = kept.get(ref);
            if (known != null && known.stamp() != null && known.stamp().holds(stamp)) {
                return known.curve();
            }
        }
        StoredCurve read = StoredCurve.of(file.toString());
        StoredCurve curve = new StoredCurve(ref, read.measurement());
        synchronized (kept) {
            kept.put(ref, new Kept(curve, stamp));
        }
        return curve;
    }

    private StoredCurve ofLibrary(String ref) throws BadInputException, IOException {
        synchronized (kept) {
            Kept known = kept.get(ref);
            if (known != null) {
                return known.curve();
            }
        }
        StoredCurve curve = new StoredCurve(ref, ReadLibrary.show(library, ref).measurement());
        synchronized (kept) {
            kept.put(ref, new Kept(curve, null));
        }
        return curve;
    }

    /** Forgets a curve of the library, which was taken out of it. */
    void forget(String ref) {
        synchronized (kept) {
            kept.remove(ref);
        }
    }

    /**
     * The file of a session's curve.
     *
     * @throws MissingException if there is none
     */
    Path path(String ref) throws BadInputException, IOException {
        if (!ref.startsWith(SESSION)) {
            throw new BadInputException("a curve is named session:NAME or library:ID, not '" + ref + "'");
        }
        String name = ref.substring(SESSION.length());
        Path file = file(places.session(name));
        if (!places.holds(file)) {
            throw new MissingException("the session " + name + " has no curve yet; measure it first");
        }
        return file;
    }

    private List<String> advice(String ref) throws BadInputException, IOException {
        if (!ref.startsWith(SESSION)) {
            return List.of();
        }
        try {
            return Advice.of(
                    stored(ref).measurement(),
                    SessionReader.readManifest(places.session(ref.substring(SESSION.length()))));
        } catch (ManifestException e) {
            return List.of();
        }
    }
}
