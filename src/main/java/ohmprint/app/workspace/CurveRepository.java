package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.List;
import java.util.Objects;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.NamedCurve;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.ReadLibrary;
import ohmprint.app.measure.Advice;
import ohmprint.conformity.Specification;
import ohmprint.exchange.SpecificationYaml;
import ohmprint.files.FileStamp;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.Take;
import ohmprint.yaml.ManifestException;
import org.jspecify.annotations.Nullable;

/** The curves of a workspace by their names: {@code session:NAME} and {@code library:ID}. The last ones are kept ready. */
public final class CurveRepository {
    private static final String SESSION = "session:";
    private static final int KEPT = 32;
    private static final double SAME = 1e-9;

    private final PathGuard places;
    private final LibraryConnection library;
    private final RecentlyUsed<String, Kept> kept = new RecentlyUsed<>(KEPT);

    /** A curve with what its file was like when it was read; null for one of the library, which never changes. */
    private record Kept(NamedCurve curve, @Nullable FileStamp stamp) {}

    CurveRepository(PathGuard places, LibraryConnection library) {
        this.places = places;
        this.library = library;
    }

    /** The name of a session's curve. */
    static String ofSession(String name) {
        return SESSION + name;
    }

    /** The file that a session's curve is in. */
    static Path file(Path session) {
        return session.resolve(NamedCurve.IN_A_SESSION);
    }

    /**
     * A curve.
     *
     * @param ref {@code session:NAME} or {@code library:ID}
     * @throws MissingException if there is none
     * @throws BadInputException if the name is none, or the curve cannot be read
     */
    public CurveView view(String ref) throws BadInputException, IOException {
        NamedCurve stored = stored(ref);
        return CurveView.of(ref, stored, isOutdated(ref, stored), advice(ref));
    }

    private boolean isOutdated(String ref, NamedCurve stored) throws BadInputException, IOException {
        if (!ref.startsWith(SESSION)) {
            return false;
        }
        Path folder = places.session(ref.substring(SESSION.length()));
        return isOutdated(Manifest.read(folder, places).session(), folder, stored);
    }

    /** What a name stands for. */
    NamedCurve stored(String ref) throws BadInputException, IOException {
        if (ref.startsWith(LibraryReference.PREFIX)) {
            return ofLibrary(ref);
        }
        Path file = path(ref);
        FileStamp stamp = FileStamp.of(List.of(file));
        Kept known = kept.get(ref);
        if (known != null && known.stamp() != null && known.stamp().holds(stamp)) {
            return known.curve();
        }
        NamedCurve read = NamedCurve.of(file.toString());
        NamedCurve curve = new NamedCurve(ref, read.measurement());
        kept.put(ref, new Kept(curve, stamp));
        return curve;
    }

    private NamedCurve ofLibrary(String ref) throws BadInputException, IOException {
        Kept known = kept.get(ref);
        if (known != null) {
            return known.curve();
        }
        NamedCurve curve = new NamedCurve(ref, ReadLibrary.show(library, ref).measurement());
        kept.put(ref, new Kept(curve, null));
        return curve;
    }

    /** Forgets a curve of the library, which was taken out of it. */
    void forget(String ref) {
        kept.remove(ref);
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

    /** Whether manifest or takes are other ones than those that were measured, by names, values and times of change. */
    static boolean isOutdated(@Nullable Session session, Path folder, NamedCurve curve) throws IOException {
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
        FileTime then = Files.getLastModifiedTime(file(folder));
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

    /**
     * What the text of a specification says; a curve that it refers to is named as everywhere.
     *
     * @param yaml the text
     * @param name its name, unless it states another
     * @throws BadInputException with everything that is wrong with it
     */
    Specification specification(String yaml, String name) throws BadInputException {
        try {
            return SpecificationYaml.read(yaml, name, this::measurement);
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private Measurement measurement(String ref) throws IOException {
        try {
            return stored(ref).measurement();
        } catch (BadInputException e) {
            throw new IOException(e.getMessage(), e);
        }
    }
}
