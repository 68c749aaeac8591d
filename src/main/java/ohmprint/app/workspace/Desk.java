package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.ReentrantLock;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;

/**
 * One session while it is worked on. Every change is told to all who listen; changes come one after another, measurements
 * likewise, and neither waits for the other.
 */
public final class Desk {
    private final String name;
    private final Path folder;
    private final Places places;
    private final Curves curves;
    private final ReentrantLock changing = new ReentrantLock();
    private final ReentrantLock measuring = new ReentrantLock();
    private final AtomicLong revision = new AtomicLong(System.currentTimeMillis());
    private final List<DeskListener> listeners = new CopyOnWriteArrayList<>();

    Desk(String name, Path folder, Places places, Curves curves) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.curves = curves;
    }

    /** Name of the session. */
    public String name() {
        return name;
    }

    /** Folder of the session. */
    Path folder() {
        return folder;
    }

    /** How things stand. */
    public SessionView view() throws IOException {
        return new SessionLook(name, folder, curves).view(revision.get(), null);
    }

    /**
     * Hears what happens from now on, after how things stand.
     *
     * @return what ends it
     */
    public Runnable listen(DeskListener listener) throws IOException, BadInputException {
        listeners.add(listener);
        SessionView now = view();
        listener.happened(new DeskEvent(now.revision(), "session", now));
        if (now.hasCurve()) {
            listener.happened(new DeskEvent(now.revision(), "curve", curves.view(Curves.ofSession(name))));
        }
        return () -> listeners.remove(listener);
    }

    /** Tells all who listen. */
    void tell(String kind, Object content) {
        DeskEvent event = new DeskEvent(revision.get(), kind, content);
        listeners.forEach(l -> l.happened(event));
    }

    /** Tells all who listen how things stand after a change, and returns it. */
    SessionView changed() throws IOException {
        revision.incrementAndGet();
        SessionView now = view();
        tell("session", now);
        return now;
    }

    /** Changes the microphone; the operator gets what it is like now. */
    public SessionView microphone(Edit<MicrophoneForm> edit) throws BadInputException, IOException {
        return edit(
                s -> s.withMicrophone(edit.of(MicrophoneForm.of(s.microphone())).microphone()));
    }

    /** Changes the recording input, likewise. */
    public SessionView input(Edit<InputForm> edit) throws BadInputException, IOException {
        return edit(s -> edit.of(InputForm.of(s)).into(s, places));
    }

    /** States what was played. */
    public SessionView stimulus(StimulusForm form) throws BadInputException, IOException {
        if (form.file() != null) {
            places.existing(folder, form.file());
        }
        return edit(s -> s.withStimulus(form.stimulus()));
    }

    /** The takes of this session. */
    public Takes takes() {
        return new Takes(this, places);
    }

    /** A change of something that is filled in. */
    @FunctionalInterface
    public interface Edit<T> {
        /**
         * What it becomes.
         *
         * @param before what it is like now
         * @throws BadInputException if the change is none
         */
        T of(T before) throws BadInputException;
    }

    /** A change of the session. */
    @FunctionalInterface
    interface Change {
        Session of(Session before) throws BadInputException, IOException;
    }

    /** Changes the manifest as a whole. */
    SessionView edit(Change change) throws BadInputException, IOException {
        changing.lock();
        try {
            Manifest manifest = Manifest.read(folder);
            Session before = manifest.session();
            if (before == null) {
                throw new ConflictException("the manifest of " + name + " cannot be changed as long as it cannot be"
                        + " understood: " + manifest.problem());
            }
            Session after = change.of(before);
            if (!after.equals(before)) {
                SessionWriter.write(after);
            }
            return changed();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        } finally {
            changing.unlock();
        }
    }

    /** Does something with the folder that changes of the manifest must not cross. */
    <T> T alone(Work<T> work) throws BadInputException, IOException {
        changing.lock();
        try {
            return work.done();
        } finally {
            changing.unlock();
        }
    }

    /** Work on the folder. */
    @FunctionalInterface
    interface Work<T> {
        T done() throws BadInputException, IOException;
    }

    /**
     * Measures the session into its folder {@code result}; one measurement at a time.
     *
     * @throws BadInputException if manifest, files or request cannot be worked with
     */
    public Measured measure(MeasureForm form) throws BadInputException, IOException {
        measuring.lock();
        try {
            Progress progress = (what, share) -> tell("measuring", new DeskEvent.Measuring(share, what));
            MeasureOutcome outcome = MeasureSession.run(form.request(folder), progress);
            List<FindingView> findings = FindingView.of(outcome.measurement().findings());
            String verdict = outcome.measurement().usability().word();
            if (outcome.folder() == null) {
                tell("measuring", new DeskEvent.Measuring(1, "done"));
                return new Measured(null, verdict, findings);
            }
            changed();
            CurveView curve = curves.view(Curves.ofSession(name));
            tell("curve", curve);
            return new Measured(curve, verdict, findings);
        } finally {
            measuring.unlock();
        }
    }
}
