package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CancellationException;
import ohmprint.app.BadInputException;
import ohmprint.audiodevice.JavaSound;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.circuit.Load;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * A session while it is recorded; the package comment shows its steps. Methods that run sound return when it has ended.
 * One thread drives it; {@link #cancel} and the questions may come from others.
 */
public final class Recording {
    private final Listener listener;
    private final Setup setup;
    private final SessionFolder files;
    private final SessionStart.ExpectedImpedance expectation;
    private final TakeCapture capture;
    private final AcceptedTakes kept;
    private volatile Step step;
    private @Nullable Pending pending;

    /** A take that waits for a verdict: its number, its entry under its final name, its levels. */
    private record Pending(int number, Take take, TakeLevels levels) {}

    private Recording(SessionStart opening, SoundSystem sound, Listener listener)
            throws IOException, BadInputException {
        Session session = opening.session();
        this.listener = listener;
        this.setup = opening.setup();
        this.files = new SessionFolder(session.folder());
        PlayedSound played = PlayedSound.read(session.stimulusPath().orElseThrow(), setup.rate());
        this.expectation = SessionStart.ExpectedImpedance.of(session.microphone(), setup.expectedOhm());
        this.capture = new TakeCapture(sound, setup, played, listener);
        opening.notes().forEach(listener::noted);
        files.tidy(session).forEach(listener::noted);
        this.kept = AcceptedTakes.of(session);
        this.step = setup.remaining(session).isEmpty() ? Step.DONE : Step.CAUTIONS;
    }

    /**
     * Begins a session, or goes on with one.
     *
     * @param request what to record
     * @param sound the devices
     * @param listener hears what happens
     * @throws BadInputException if the request or what is in the folder cannot be worked with, or the devices cannot record
     *     it; the cause then is a {@link SoundException}
     * @throws IOException if a file cannot be read or written
     */
    public static Recording open(RecordRequest request, SoundSystem sound, Listener listener)
            throws BadInputException, IOException {
        try {
            return new Recording(SessionStart.of(request, sound), sound, listener);
        } catch (SoundException e) {
            throw trouble(e);
        }
    }

    /** The same with the devices of this computer. */
    public static Recording open(RecordRequest request, Listener listener) throws BadInputException, IOException {
        return open(request, new JavaSound(), listener);
    }

    private static BadInputException trouble(SoundException e) {
        return new BadInputException(String.valueOf(e.getMessage()), e);
    }

    /** Where it stands. */
    public Step step() {
        return step;
    }

    /** The session with the takes kept so far. */
    public Session session() {
        return kept.session();
    }

    /** The folder of the session. */
    public Path folder() {
        return session().folder();
    }

    /** The files of the takes kept so far, in order. */
    public List<String> takes() {
        return session().takes().stream().map(Take::file).toList();
    }

    /** The loads of all takes in order, ohms; infinite for none. */
    public List<Double> plannedOhms() {
        return ohms(setup.loads());
    }

    /** The loads of the takes to come, likewise; empty when all is done. */
    public List<Double> remainingOhms() {
        return ohms(remaining());
    }

    /** The load with which the level is set, ohms: the highest, which gives the highest level. */
    public double levelOhm() {
        return setup.highest().ohm();
    }

    private List<Load> remaining() {
        return setup.remaining(session());
    }

    private static List<Double> ohms(List<Load> loads) {
        return loads.stream().map(Load::ohm).toList();
    }

    /** Sample rate in hertz, channels opened, channel of the microphone and of the reference, in words. */
    public String recorder() {
        return setup.rate() + " Hz, channel " + setup.channel() + " of " + setup.channels()
                + (setup.referenceChannel() == null ? "" : ", reference on channel " + setup.referenceChannel());
    }

    /** Length of a take in seconds, without what buffers add. */
    public double takeSeconds() {
        return capture.seconds();
    }

    /** The cautions were read. */
    public void cautionsRead() {
        move(Step.CAUTIONS, session().takes().isEmpty() ? Step.LEVEL : Step.FIT);
    }

    /**
     * Plays and records once without keeping it, to set the level and to foretell the uncertainty.
     *
     * @throws CancellationException if {@link #cancel} ended it
     */
    public LevelReport checkLevel() throws IOException, BadInputException {
        move(Step.LEVEL, Step.SOUNDING);
        try {
            Take trial = setup.take(SessionFolder.TRIAL, setup.highest(), now());
            return LevelReport.of(capture.record(trial, kept), setup.loads(), expectation.source());
        } catch (SoundException e) {
            throw trouble(e);
        } finally {
            Files.deleteIfExists(folder().resolve(SessionFolder.TRIAL));
            move(Step.SOUNDING, Step.LEVEL);
        }
    }

    /** The level is set and stays. */
    public void levelAccepted() {
        move(Step.LEVEL, Step.FIT);
    }

    /**
     * Plays and records the take with the next load and checks it.
     *
     * @throws CancellationException if {@link #cancel} ended it; what there is of it is kept as unusable
     * @throws BadInputException if a device failed; likewise; the cause then is a {@link SoundException}
     * @throws IOException if the disk is full or fails; likewise as far as it goes
     */
    public TakeReport recordTake() throws IOException, BadInputException {
        Load load = remaining().get(0);
        int number = files.nextNumber(session());
        move(Step.FIT, Step.SOUNDING);
        boolean whole = false;
        try {
            Take take = setup.take(SessionFolder.unfinished(number), load, now());
            RecordedTake recorded = capture.record(take, kept);
            TakeReport report = TakeReport.of(
                    recorded,
                    setup.loads().size() - remaining().size() + 1,
                    SessionFolder.name(number),
                    expectation.ohm());
            pending = new Pending(number, setup.take(SessionFolder.name(number), load, now()), recorded.bands());
            whole = true;
            return report;
        } catch (SoundException e) {
            throw trouble(e);
        } finally {
            if (!whole) {
                files.breakOff(number).ifPresent(listener::noted);
            }
            move(Step.SOUNDING, whole ? Step.JUDGE : Step.FIT);
        }
    }

    /** Puts the take into the session: it counts from here on, whatever happens. */
    public void keep() throws IOException {
        Pending take = waiting();
        files.keep(take.number());
        kept.add(take.take(), take.levels());
        pending = null;
        move(Step.JUDGE, remaining().isEmpty() ? Step.DONE : Step.FIT);
    }

    /** Puts the take aside; its load comes again. Returns the name under which it lies there. */
    public String repeat() throws IOException {
        String aside = files.repeat(waiting().number());
        pending = null;
        move(Step.JUDGE, Step.FIT);
        return aside;
    }

    /**
     * Goes on with the session as somebody has changed it: its microphone, input or takes. The manifest is replaced.
     *
     * @param other the session of the same folder
     * @throws IllegalStateException if sound is running
     * @throws IOException if a take cannot be read or the manifest cannot be written; nothing has changed then
     */
    public void revise(Session other) throws IOException {
        if (step == Step.SOUNDING) {
            throw new IllegalStateException("the session cannot be changed while sound runs");
        }
        kept.replace(other);
        if (step == Step.FIT && remaining().isEmpty()) {
            move(Step.FIT, Step.DONE);
        } else if (step == Step.DONE && !remaining().isEmpty()) {
            move(Step.DONE, Step.FIT);
        }
    }

    /** Ends a sound that is running; does nothing without one. */
    public void cancel() {
        capture.cancel();
    }

    /**
     * Goes from one step to another and tells the listener; what is not its turn is refused.
     *
     * @throws IllegalStateException if it does not stand at the first
     */
    private void move(Step from, Step to) {
        synchronized (this) {
            if (step != from) {
                throw new IllegalStateException("the step is " + step.name().toLowerCase(Locale.ROOT) + ", not "
                        + from.name().toLowerCase(Locale.ROOT));
            }
            step = to;
        }
        listener.stepped(to);
    }

    private Pending waiting() {
        if (step != Step.JUDGE || pending == null) {
            throw new IllegalStateException("no take waits for a verdict; the step is " + step);
        }
        return pending;
    }

    private static OffsetDateTime now() {
        return OffsetDateTime.now(ZoneId.systemDefault()).truncatedTo(ChronoUnit.SECONDS);
    }

    /** Where a recording stands. */
    public enum Step {
        /** The cautions are to be read. */
        CAUTIONS,
        /** The highest load is to be fitted and the level to be set. */
        LEVEL,
        /** The load of the next take is to be fitted. */
        FIT,
        /** Sound is running. */
        SOUNDING,
        /** A take is recorded and checked: keep or repeat it. */
        JUDGE,
        /** All takes are kept. */
        DONE
    }

    /** Hears what happens while a session is recorded; called on the thread that records. */
    public interface Listener {
        /** Hears nothing. */
        Listener SILENT = new Listener() {};

        /** The machine has come to another step. */
        default void stepped(Step step) {}

        /**
         * The microphone's level, ten times a second.
         *
         * @param peakDbfs highest sample since the last reading, dBFS
         * @param rmsDbfs mean square since then, dBFS
         * @param share share of the take that is recorded, 0 to 1
         */
        default void heard(double peakDbfs, double rmsDbfs, double share) {}

        /** Something worth a word, such as an unfinished take that was found. */
        default void noted(String message) {}
    }
}
