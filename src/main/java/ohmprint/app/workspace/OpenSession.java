package ohmprint.app.workspace;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executor;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Route;
import org.jspecify.annotations.Nullable;

/**
 * One session while it is worked on. Every change is told to all who listen; changes come one after another, measurements
 * likewise, and neither waits for the other.
 */
public final class OpenSession {
    /** What ends the recorder's work, which is never refused for what lies in the folder. */
    private static final Set<String> ENDING = Set.of("cancel", "close");

    private final String name;
    private final Path folder;
    private final PathGuard places;
    private final CurveRepository curves;
    private final Executor later;
    private final Recorder recorder;
    private final ManifestEditor manifest;
    private final LineDrawing lines;
    private final Audition audition;
    /** Held while the manifest, or which files there are, is changed. */
    private final Lock changing = new ReentrantLock();

    private final Lock measuring = new ReentrantLock();
    private final List<Listener> listeners = new CopyOnWriteArrayList<>();
    /** Begins with the time, so that numbers grow beyond a new start of the program. */
    private final AtomicLong revision = new AtomicLong(System.currentTimeMillis());

    /**
     * A session that is open.
     *
     * @param sound the devices of this computer
     * @param later does what nobody waits for
     */
    OpenSession(
            String name,
            Path folder,
            PathGuard places,
            CurveRepository curves,
            Supplier<SoundSystem> sound,
            Executor later) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.curves = curves;
        this.later = later;
        this.recorder = new Recorder(name, folder, sound, new RecorderWatcher());
        this.manifest = new ManifestEditor(name, folder, places, changing, recorder::revise, this::changed);
        this.lines = new LineDrawing(folder, places);
        this.audition = new Audition(folder, places);
    }

    /** Name of the session. */
    public String name() {
        return name;
    }

    /** How things stand. */
    public SessionView view() throws IOException {
        return SessionView.of(name, folder, places, curves, revision.get(), recorder.state());
    }

    /** Its manifest, to be changed. */
    public ManifestEditor manifest() {
        return manifest;
    }

    /**
     * What happened in a session.
     *
     * @param id number of the last change of the session, which orders what is told
     * @param kind {@code session} with a {@link SessionView}, {@code curve} with a {@link CurveView}, {@code level} with a
     *     {@link Recorder.Level}, {@code note} with a {@link Note} or {@code measuring} with a {@link Measuring}
     * @param content a record
     */
    public record Event(long id, String kind, Object content) {}

    /**
     * Something worth a word.
     *
     * @param message a sentence
     */
    public record Note(String message) {}

    /**
     * A measurement is on its way.
     *
     * @param share how far it is, 0 to 1
     * @param doing what it does
     */
    public record Measuring(double share, String doing) {}

    /** Hears what happens in a session, in order; must return at once. */
    @FunctionalInterface
    public interface Listener {
        /**
         * Something happened.
         *
         * @param event it
         */
        void happened(Event event);
    }

    /**
     * Hears what happens from now on, after how things stand.
     *
     * @return what ends it
     */
    public Runnable listen(Listener listener) throws IOException, BadInputException {
        listeners.add(listener);
        boolean told = false;
        try {
            SessionView now = view();
            listener.happened(new Event(now.revision(), "session", now));
            if (now.hasCurve()) {
                listener.happened(new Event(now.revision(), "curve", curves.view(CurveRepository.ofSession(name))));
            }
            told = true;
        } finally {
            if (!told) {
                listeners.remove(listener);
            }
        }
        return () -> listeners.remove(listener);
    }

    private void tell(String kind, Object content) {
        Event event = new Event(revision.get(), kind, content);
        listeners.forEach(l -> l.happened(event));
    }

    private void note(String message) {
        tell("note", new Note(message));
    }

    /** Tells all who listen how things stand after a change, and returns it. */
    private SessionView changed() throws IOException {
        revision.incrementAndGet();
        SessionView now = view();
        tell("session", now);
        return now;
    }

    /** Tells all who listen what becomes of the recorder. */
    private final class RecorderWatcher implements Recorder.Watcher {
        @Override
        public void changed() {
            try {
                OpenSession.this.changed();
            } catch (IOException e) {
                OpenSession.this.note("the folder of " + name + " cannot be read: " + e.getMessage());
            }
        }

        @Override
        public void measurable() {
            measureSoon();
        }

        @Override
        public void level(Recorder.Level level) {
            tell("level", level);
        }

        @Override
        public void note(String message) {
            OpenSession.this.note(message);
        }
    }

    /**
     * Has the recorder do something.
     *
     * @return how things stand, and whether more comes as events
     * @throws ConflictException if that is not possible now
     */
    public Recorded record(Recorder.Request form) throws BadInputException, IOException {
        if (!ENDING.contains(String.valueOf(form.action()))) {
            places.refuseLinks(folder);
        }
        boolean more = "open".equals(form.action()) ? opened(form) : recorder.act(form);
        return new Recorded(changed(), more);
    }

    private boolean opened(Recorder.Request form) throws BadInputException, IOException {
        changing.lock();
        try {
            return recorder.act(form);
        } finally {
            changing.unlock();
        }
    }

    /**
     * How things stand after the recorder was told to do something.
     *
     * @param session the session
     * @param more whether what follows comes as events
     */
    public record Recorded(SessionView session, boolean more) {}

    /** True while the recorder is at work. */
    boolean isSounding() {
        return recorder.isBusy();
    }

    /** Ends what sounds and leaves the files well. */
    void end() {
        recorder.end();
    }

    /** Takes a file into the folder; see {@link FolderFiles}. */
    public SessionView upload(String file, InputStream in) throws BadInputException, IOException {
        FolderFiles.take(places.file(folder, file), in, changing);
        return changed();
    }

    /**
     * Copies recordings that lie directly in the workspace into this session; they stay where they are.
     *
     * @param names their names, one or more
     */
    public SessionView adopt(@Nullable List<String> names) throws BadInputException, IOException {
        if (names == null || names.isEmpty() || names.contains(null)) {
            throw new BadInputException("no recording is named; name one or more of those beside the sessions");
        }
        for (String each : names) {
            try (InputStream in = Files.newInputStream(places.existing(places.root(), each))) {
                FolderFiles.take(places.file(folder, each), in, changing);
            }
        }
        return changed();
    }

    /** Looks into a recording of the folder, be it a take or not, or the take that waits for a verdict. */
    public TakeInspector.Inspection inspect(String file) throws BadInputException, IOException {
        return new TakeInspector(folder, places).inspect(file, recorder::waiting);
    }

    /**
     * Draws the straight line of the band nearest to a frequency.
     *
     * @return an SVG picture
     */
    public String lines(double hz, boolean dark) throws BadInputException, IOException {
        return lines.svg(curves.stored(CurveRepository.ofSession(name)), hz, dark);
    }

    /**
     * Renders a piece of a take for another load.
     *
     * @return a WAV file
     */
    public byte[] audition(Audition.Request form) throws BadInputException, IOException {
        return audition.render(curves.path(CurveRepository.ofSession(name)), form);
    }

    /**
     * How a session is to be measured; what is null is left to the program.
     *
     * @param bands bands per octave
     * @param route {@code auto} or the route to take
     * @param force whether to write a result that the evidence does not support
     */
    public record MeasureOptions(
            @Nullable Integer bands,
            @Nullable String route,
            @Nullable Boolean force) {
        /** Everything left to the program. */
        public static final MeasureOptions USUAL = new MeasureOptions(null, null, null);

        private MeasureRequest request(Path folder) throws BadInputException {
            MeasureRequest usual = MeasureRequest.of(folder);
            return new MeasureRequest(
                    folder, null, bands, wanted(), usual.fromHz(), usual.toHz(), Boolean.TRUE.equals(force));
        }

        private @Nullable Route wanted() throws BadInputException {
            if (route == null || route.equals("auto")) {
                return null;
            }
            return Arrays.stream(Route.values())
                    .filter(r -> r.word().equals(route))
                    .findFirst()
                    .orElseThrow(() -> new BadInputException(
                            "the route is '" + route + "'; choose auto, stimulus, reference, common or power"));
        }
    }

    /**
     * What came of measuring a session.
     *
     * @param curve the curve, or null when the evidence does not support one and nothing was written
     * @param verdict how far it can be trusted
     * @param findings what was noticed
     */
    public record Measured(@Nullable CurveView curve, String verdict, List<Finding> findings) {}

    /**
     * Measures the session into its folder {@code result}; one measurement at a time.
     *
     * @throws BadInputException if manifest, files or request cannot be worked with
     */
    public Measured measure(MeasureOptions options) throws BadInputException, IOException {
        places.refuseLinks(folder);
        measuring.lock();
        try {
            Progress progress = (what, share) -> tell("measuring", new Measuring(share, what));
            MeasureOutcome outcome = MeasureSession.run(options.request(folder), progress);
            List<Finding> findings = outcome.measurement().findings();
            String verdict = outcome.measurement().usability().word();
            if (outcome.folder() == null) {
                tell("measuring", new Measuring(1, "done"));
                return new Measured(null, verdict, findings);
            }
            changed();
            CurveView curve = curves.view(CurveRepository.ofSession(name));
            tell("curve", curve);
            return new Measured(curve, verdict, findings);
        } finally {
            measuring.unlock();
        }
    }

    /** Measures when there is time; what comes of it is told to all who listen. */
    private void measureSoon() {
        later.execute(() -> {
            try {
                Measured measured = measure(MeasureOptions.USUAL);
                if (measured.curve() == null) {
                    note("the takes do not support a curve yet: "
                            + measured.findings().stream()
                                    .map(Finding::message)
                                    .findFirst()
                                    .orElse("see their findings"));
                }
            } catch (BadInputException | IOException e) {
                note("the session cannot be measured yet: " + e.getMessage());
            }
        });
    }
}
