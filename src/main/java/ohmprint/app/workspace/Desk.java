package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Set;
import java.util.concurrent.Executor;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.audio.SoundSystem;

/**
 * One session while it is worked on. Every change is told to all who listen; changes come one after another, measurements
 * likewise, and neither waits for the other.
 */
public final class Desk {
    /** What ends the recorder's work, which is never refused for what lies in the folder. */
    private static final Set<String> ENDING = Set.of("cancel", "close");

    private final String name;
    private final Path folder;
    private final Places places;
    private final Curves curves;
    private final Notices notices = new Notices();
    private final Measuring measuring;
    private final Recorder recorder;
    private final Revising revising;
    private final LineDrawing lines;
    private final Audition audition;

    /**
     * A desk.
     *
     * @param sound the devices of this computer
     * @param later does what nobody waits for
     */
    Desk(String name, Path folder, Places places, Curves curves, Supplier<SoundSystem> sound, Executor later) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.curves = curves;
        this.recorder = new Recorder(this, sound);
        this.revising = new Revising(name, folder, places, recorder);
        this.lines = new LineDrawing(folder, places);
        this.audition = new Audition(folder, places);
        this.measuring = new Measuring(this, places, curves, later);
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
        return new SessionLook(name, folder, places, curves).view(notices.revision(), recorder.view());
    }

    /**
     * Hears what happens from now on, after how things stand.
     *
     * @return what ends it
     */
    public Runnable listen(DeskListener listener) throws IOException, BadInputException {
        notices.add(listener);
        boolean told = false;
        try {
            SessionView now = view();
            listener.happened(new DeskEvent(now.revision(), "session", now));
            if (now.hasCurve()) {
                listener.happened(new DeskEvent(now.revision(), "curve", curves.view(Curves.ofSession(name))));
            }
            told = true;
        } finally {
            if (!told) {
                notices.remove(listener);
            }
        }
        return () -> notices.remove(listener);
    }

    /** Tells all who listen. */
    void tell(String kind, Object content) {
        notices.tell(kind, content);
    }

    /** Tells all who listen something worth a word. */
    void note(String message) {
        notices.note(message);
    }

    /** Tells all who listen how things stand after a change, and returns it. */
    SessionView changed() throws IOException {
        notices.changed();
        SessionView now = view();
        tell("session", now);
        return now;
    }

    /** The same where nobody can be told that the folder cannot be read. */
    void publish() {
        try {
            changed();
        } catch (IOException e) {
            notices.note("the folder of " + name + " cannot be read: " + e.getMessage());
        }
    }

    /**
     * Has the recorder do something.
     *
     * @return how things stand, and whether more comes as events
     * @throws ConflictException if that is not possible now
     */
    public Recorded record(RecorderForm form) throws BadInputException, IOException {
        if (!ENDING.contains(String.valueOf(form.action()))) {
            places.refuseLinks(folder);
        }
        boolean opening = "open".equals(form.action());
        boolean more = opening ? alone(() -> recorder.act(form)) : recorder.act(form);
        return new Recorded(changed(), more);
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

    /** Changes the microphone; the change gets what it is like now. */
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

    /** Looks into a recording of the folder, be it a take or not, or the take that waits for a verdict. */
    public InspectionView inspect(String file) throws BadInputException, IOException {
        return new Listening(folder, places).inspect(file, recorder::view);
    }

    /**
     * Draws the straight line of the band nearest to a frequency.
     *
     * @return an SVG picture
     */
    public String lines(double hz, boolean dark) throws BadInputException, IOException {
        return lines.svg(curves.stored(Curves.ofSession(name)), hz, dark);
    }

    /**
     * Renders a piece of a take for another load.
     *
     * @return a WAV file
     */
    public byte[] audition(AuditionForm form) throws BadInputException, IOException {
        return audition.render(curves.path(Curves.ofSession(name)), form);
    }

    /** Changes the manifest as a whole. */
    SessionView edit(Revising.Change change) throws BadInputException, IOException {
        return revising.edit(change, this::changed);
    }

    /** Does something with the folder that changes of the manifest must not cross. */
    <T> T alone(Revising.Work<T> work) throws BadInputException, IOException {
        return revising.alone(work);
    }

    /**
     * Measures the session into its folder {@code result}; one measurement at a time.
     *
     * @throws BadInputException if manifest, files or request cannot be worked with
     */
    public Measured measure(MeasureForm form) throws BadInputException, IOException {
        return measuring.measure(form);
    }

    /** Measures when there is time; what comes of it is told to all who listen. */
    void measureSoon() {
        measuring.measureSoon();
    }
}
