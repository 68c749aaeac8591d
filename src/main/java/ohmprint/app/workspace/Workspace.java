package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.Version;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.record.DeviceList;
import ohmprint.audiodevice.JavaSound;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.files.Leftovers;
import ohmprint.session.Session;
import org.jspecify.annotations.Nullable;

/** A workspace that is worked in: its sessions, curves and library. May be used from several threads. */
public final class Workspace implements AutoCloseable {
    private static final String LIBRARY = "library.db";

    private final PathGuard places;
    private final LibraryConnection library;
    private final @Nullable Path libraryFile;
    private final String libraryName;
    private final CurveRepository curves;
    private final SessionList list;
    private final SessionCreator creator;
    private final LoadControl loads;
    private final Supplier<SoundSystem> sound;
    private final ExecutorService later = Executors.newSingleThreadExecutor(work -> {
        Thread thread = new Thread(work, "measurements");
        thread.setDaemon(true);
        return thread;
    });
    private final Map<String, OpenSession> openSessions = new ConcurrentHashMap<>();

    private Workspace(PathGuard places, @Nullable String library, Supplier<SoundSystem> sound) {
        this.sound = sound;
        this.places = places;
        boolean file = library == null || !library.contains(":");
        this.libraryFile = file ? (library == null ? places.root().resolve(LIBRARY) : Path.of(library)) : null;
        this.libraryName = libraryFile == null ? "the library of a server" : libraryFile.toString();
        this.library = new LibraryConnection(libraryFile == null ? library : libraryFile.toString(), System.getenv());
        this.curves = new CurveRepository(places, this.library);
        this.list = new SessionList(places);
        this.creator = new SessionCreator(places);
        this.loads = new LoadControl(places, curves);
    }

    /**
     * Opens a workspace.
     *
     * @param folder folder that holds sessions, or will
     * @param library file or address of the library, or null for {@code library.db} in the workspace, which is made when
     *     something is added to it
     * @throws BadInputException if there is no such folder
     */
    public static Workspace open(Path folder, @Nullable String library) throws BadInputException, IOException {
        return open(folder, library, JavaSound::new);
    }

    /** The same with other sound devices than those of this computer. */
    public static Workspace open(Path folder, @Nullable String library, Supplier<SoundSystem> sound)
            throws BadInputException, IOException {
        if (!Files.isDirectory(folder)) {
            throw new BadInputException("the workspace " + folder
                    + (Files.exists(folder) ? " is a file" : " does not exist") + "; give a folder");
        }
        Workspace bench = new Workspace(PathGuard.of(folder), library, sound);
        Path usual = bench.places.root().resolve(LIBRARY);
        if (library == null && Files.exists(usual, LinkOption.NOFOLLOW_LINKS) && !bench.places.isInside(usual)) {
            throw new BadInputException(
                    usual + " is a link that leads out of the workspace; name the library with" + " --library instead");
        }
        Leftovers.tidy(bench.places.root());
        for (Path session : bench.sessionFolders()) {
            FolderFiles.tidy(session);
            Leftovers.tidy(session);
        }
        return bench;
    }

    /**
     * What is in a workspace.
     *
     * @param version version of the program
     * @param workspace path of the folder
     * @param sessions sessions, the one changed last first
     * @param loose recordings directly in the workspace
     * @param library file or address of the library, without secrets
     * @param hasLibrary whether there is one
     * @param operator who works here unless told otherwise
     * @param workshop name of the file that says who hands a sheet over, or null
     */
    public record Contents(
            String version,
            String workspace,
            List<SessionList.Line> sessions,
            List<FolderFiles.AudioFile> loose,
            String library,
            boolean hasLibrary,
            String operator,
            @Nullable String workshop) {}

    /** What is in the workspace. */
    public Contents view() throws IOException {
        List<SessionList.Line> sessions = new ArrayList<>(list.of(sessionFolders()));
        sessions.sort(
                Comparator.comparing(SessionList.Line::changedAt).reversed().thenComparing(SessionList.Line::name));
        return new Contents(
                Version.current(),
                places.root().toString(),
                sessions,
                FolderFiles.recordings(places.root(), places, Set.of()),
                libraryName,
                libraryFile == null || Files.exists(libraryFile),
                library.usualOperator(),
                Downloads.workshop(places));
    }

    private List<Path> sessionFolders() throws IOException {
        try (Stream<Path> all = Files.list(places.root())) {
            return all.filter(f -> !String.valueOf(f.getFileName()).startsWith("."))
                    .filter(f -> Files.isRegularFile(f.resolve(Session.MANIFEST)))
                    .filter(places::isInside)
                    .sorted()
                    .toList();
        }
    }

    /**
     * A session that is open.
     *
     * @throws MissingException if there is no such folder in the workspace
     * @throws BadInputException if the name is none
     */
    public OpenSession openSession(String name) throws BadInputException, IOException {
        Path folder = places.session(name);
        if (!Files.isDirectory(folder)) {
            throw new MissingException(
                    "there is no session " + name + " in this workspace; reload the page to see which there are");
        }
        return openSessions.computeIfAbsent(name, n -> new OpenSession(n, folder, places, curves, sound, later));
    }

    /** Begins a session in a new folder. */
    public SessionView create(SessionCreator.Request form) throws BadInputException, IOException {
        return openSession(creator.begin(form)).view();
    }

    /** Unpacks the session that comes with the program and measures it. */
    public SessionView demo() throws BadInputException, IOException {
        OpenSession openSession = openSession(creator.demo());
        openSession.measure(OpenSession.MeasureOptions.USUAL);
        return openSession.view();
    }

    /**
     * Tries the sound devices of this computer, which takes seconds.
     *
     * @throws ConflictException if one of them is at work
     * @throws BadInputException if there is none
     */
    public DeviceList devices() throws BadInputException {
        for (OpenSession openSession : openSessions.values()) {
            if (openSession.isSounding()) {
                throw new ConflictException("the recorder of " + openSession.name()
                        + " is at work, which trying the devices would disturb; wait for the end of the sound");
            }
        }
        return DeviceList.of(null, sound.get(), Progress.SILENT);
    }

    /** Curves by their names. */
    public CurveRepository curves() {
        return curves;
    }

    /** What loads do to them. */
    public LoadControl loads() {
        return loads;
    }

    /** The library. */
    public LibraryService libraryService() {
        return new LibraryService(library, curves);
    }

    /** Curves beside each other. */
    public ComparisonService comparison() {
        return new ComparisonService(library, curves);
    }

    /** Whether curves keep to their limits. */
    public ConformityService conformity() {
        return new ConformityService(library, curves);
    }

    /** Which loads to record. */
    public LoadPlanner planner() {
        return new LoadPlanner(curves);
    }

    /** Files to hand out. */
    public Downloads downloads() {
        return new Downloads(places, library, curves);
    }

    /** Ends whatever runs and leaves the files well. */
    @Override
    public void close() {
        later.shutdownNow();
        openSessions.values().forEach(OpenSession::end);
        openSessions.clear();
    }
}
