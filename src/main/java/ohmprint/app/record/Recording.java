package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CancellationException;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeInspection;
import ohmprint.audio.JavaSound;
import ohmprint.audio.RunReport;
import ohmprint.audio.SoundException;
import ohmprint.audio.SoundSystem;
import ohmprint.circuit.Load;
import ohmprint.curve.Finding;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * A session while it is recorded; the package comment shows its steps. Methods that run sound return when it has ended.
 * One thread drives it; {@link #cancel} and the questions may come from others.
 */
public final class Recording {
    private final SoundSystem sound;
    private final RecordListener listener;
    private final Setup setup;
    private final SessionFolder files;
    private final PlayedSound played;
    private final Expectation expectation;
    private final TakeCapture capture;
    private final List<RecordedTake.KeptTake> kept = new ArrayList<>();
    private volatile Session session;
    private volatile Step step = Step.CAUTIONS;
    private @Nullable Pending pending;

    /** A take that waits for a verdict: its number, its entry under its final name, its levels. */
    private record Pending(int number, Take take, TakeLevels levels) {}

    private Recording(Opening opening, SoundSystem sound, RecordListener listener)
            throws IOException, BadInputException {
        this.sound = sound;
        this.listener = listener;
        this.setup = opening.setup();
        this.session = opening.session();
        this.files = new SessionFolder(session.folder());
        this.played = PlayedSound.read(session.stimulusPath().orElseThrow(), setup.rate());
        this.expectation = Expectation.of(session.microphone(), setup.expectedOhm());
        this.capture = new TakeCapture(setup, played, listener);
        opening.notes().forEach(listener::noted);
        files.tidy(session).forEach(listener::noted);
        for (Take take : session.takes()) {
            kept.add(new RecordedTake.KeptTake(take, levels(TakeInspection.of(session, take))));
        }
        if (setup.remaining(session).isEmpty()) {
            step = Step.DONE;
        }
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
    public static Recording open(RecordRequest request, SoundSystem sound, RecordListener listener)
            throws BadInputException, IOException {
        try {
            return new Recording(Opening.of(request, sound), sound, listener);
        } catch (SoundException e) {
            throw trouble(e);
        }
    }

    /** The same with the devices of this computer. */
    public static Recording open(RecordRequest request, RecordListener listener) throws BadInputException, IOException {
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
        return session;
    }

    /** The folder of the session. */
    public Path folder() {
        return session.folder();
    }

    /** The files of the takes kept so far, in order. */
    public List<String> takes() {
        return session.takes().stream().map(Take::file).toList();
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
        return setup.remaining(session);
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
        return setup.leadSeconds() + played.samples().length / (double) setup.rate() + setup.tailSeconds();
    }

    /** The cautions were read. */
    public void cautionsRead() {
        move(Step.CAUTIONS, session.takes().isEmpty() ? Step.LEVEL : Step.FIT);
    }

    /**
     * Plays and records once without keeping it, to set the level and to foretell the uncertainty.
     *
     * @throws CancellationException if {@link #cancel} ended it
     */
    public LevelReport checkLevel() throws IOException, BadInputException {
        move(Step.LEVEL, Step.SOUNDING);
        Path file = session.folder().resolve(SessionFolder.TRIAL);
        try {
            Take take = setup.take(SessionFolder.TRIAL, setup.highest(), now());
            RecordedTake trial = recorded(take, capture.record(sound, file));
            List<Finding> findings = renamed(TakeChecks.of(trial), null);
            boolean usable = TakeChecks.usable(trial.inspection().indicators(), findings);
            return LevelTrial.of(trial, usable, findings, setup.loads(), expectation.source());
        } catch (SoundException e) {
            throw trouble(e);
        } finally {
            Files.deleteIfExists(file);
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
        int number = files.nextNumber(session);
        move(Step.FIT, Step.SOUNDING);
        boolean whole = false;
        try {
            String name = SessionFolder.unfinished(number);
            Take take = setup.take(name, load, now());
            RecordedTake recorded =
                    recorded(take, capture.record(sound, session.folder().resolve(name)));
            TakeReport report = report(number, recorded);
            pending = new Pending(number, setup.take(SessionFolder.name(number), load, now()), recorded.bands());
            whole = true;
            return report;
        } catch (SoundException e) {
            throw trouble(e);
        } finally {
            if (!whole) {
                brokenOff(number);
            }
            move(Step.SOUNDING, whole ? Step.JUDGE : Step.FIT);
        }
    }

    private void brokenOff(int number) throws IOException {
        Path file = session.folder().resolve(SessionFolder.unfinished(number));
        if (Files.exists(file)) {
            listener.noted(
                    "what was recorded of it is kept as " + files.putAside(number, "unusable") + " and not used");
        }
    }

    private TakeReport report(int number, RecordedTake recorded) throws IOException {
        String name = SessionFolder.name(number);
        List<Finding> findings = new ArrayList<>(TakeChecks.of(recorded));
        LoadStep loads = LoadStep.of(recorded, expectation.ohm());
        Finding mismatch = loads == null ? null : loads.finding();
        if (mismatch != null) {
            findings.add(mismatch);
        }
        var seen = recorded.inspection().indicators();
        return new TakeReport(
                setup.loads().size() - remaining().size() + 1,
                name,
                recorded.take().load().ohm(),
                TakeChecks.usable(seen, findings),
                20 * Math.log10(seen.peak()),
                seen.leadInDbfs(),
                loads == null ? null : loads.db(),
                loads == null ? null : loads.comparedTo(),
                renamed(findings, name));
    }

    /** Puts the take into the session: it counts from here on, whatever happens. */
    public void keep() throws IOException {
        Pending take = waiting();
        files.keep(take.number());
        Session more = session.withTake(take.take());
        SessionWriter.write(more);
        session = more;
        kept.add(new RecordedTake.KeptTake(take.take(), take.levels()));
        pending = null;
        move(Step.JUDGE, remaining().isEmpty() ? Step.DONE : Step.FIT);
    }

    /** Puts the take aside; its load comes again. Returns the name under which it lies there. */
    public String repeat() throws IOException {
        String aside = files.putAside(waiting().number(), "repeated");
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
        List<RecordedTake.KeptTake> takes = new ArrayList<>();
        for (Take take : other.takes()) {
            Optional<RecordedTake.KeptTake> known =
                    kept.stream().filter(k -> k.take().equals(take)).findFirst();
            takes.add(
                    known.isPresent()
                            ? known.get()
                            : new RecordedTake.KeptTake(take, levels(TakeInspection.of(other, take))));
        }
        SessionWriter.write(other);
        session = other;
        kept.clear();
        kept.addAll(takes);
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

    private Pending waiting() {
        if (step != Step.JUDGE || pending == null) {
            throw new IllegalStateException("no take waits for a verdict; the step is " + step);
        }
        return pending;
    }

    private RecordedTake recorded(Take take, RunReport run) throws IOException {
        TakeInspection inspection = TakeInspection.of(session, take);
        return new RecordedTake(
                session, take, inspection, run, played.samples(), setup.rate(), levels(inspection), List.copyOf(kept));
    }

    private static TakeLevels levels(TakeInspection take) throws IOException {
        TakeLevels own = TakeLevels.of(take, TakeLevels.FROM_HZ, TakeLevels.TO_HZ);
        return take.reference() == null
                ? own
                : own.over(TakeLevels.ofReference(take, TakeLevels.FROM_HZ, TakeLevels.TO_HZ));
    }

    private static List<Finding> renamed(List<Finding> findings, @Nullable String name) {
        return findings.stream()
                .map(f -> new Finding(f.code(), name, f.message()))
                .toList();
    }

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

    private static OffsetDateTime now() {
        return OffsetDateTime.now(ZoneId.systemDefault()).truncatedTo(ChronoUnit.SECONDS);
    }
}
