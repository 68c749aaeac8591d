package ohmprint.app.workspace;

import java.io.IOException;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.record.RecordListener;
import ohmprint.app.record.Recording;
import ohmprint.app.record.Step;
import ohmprint.audio.SoundSystem;
import org.jspecify.annotations.Nullable;

/**
 * The recorder of one session. One thread of its own drives the {@link Recording}; whoever asks for sound gets an answer at
 * once and hears the rest as events. While it works, everything but {@code cancel} is refused, so that two windows cannot
 * start two takes.
 */
final class Recorder implements RecordListener {
    private static final int BEGINS_WITHIN_MS = 1500;

    private final Desk desk;
    private final Supplier<SoundSystem> sound;
    private final Driver driver;
    private volatile @Nullable Recording recording;
    private volatile RecorderView.@Nullable Level level;
    private volatile RecorderView.@Nullable Heard heard;
    private volatile @Nullable String error;
    private volatile boolean trial;
    private volatile CountDownLatch begun = new CountDownLatch(0);

    Recorder(Desk desk, Supplier<SoundSystem> sound) {
        this.desk = desk;
        this.sound = sound;
        this.driver = new Driver("recorder of " + desk.name());
    }

    /** Where it stands, or null when it is not open. */
    @Nullable
    RecorderView view() {
        Recording open = recording;
        if (open == null) {
            return null;
        }
        Step step = open.step();
        var remaining = open.remainingOhms().stream().map(Ohms::new).toList();
        return new RecorderView(
                step.name().toLowerCase(Locale.ROOT),
                trial && step == Step.SOUNDING,
                Cautions.all(),
                open.recorder(),
                open.takeSeconds(),
                remaining,
                new Ohms(open.levelOhm()),
                remaining.isEmpty() ? null : remaining.get(0),
                level,
                step == Step.JUDGE ? heard : null,
                error);
    }

    /** True while it plays and records, or is about to. */
    boolean isBusy() {
        return driver.isBusy();
    }

    /**
     * Does something.
     *
     * @return true when what follows comes as events
     * @throws ConflictException if that is not possible now
     */
    boolean act(RecorderForm form) throws BadInputException, IOException {
        String action = form.action() == null ? "" : form.action();
        switch (action) {
            case "open" -> open(form);
            case "cancel" -> opened().cancel();
            case "cautions-read" -> now(() -> opened().cautionsRead());
            case "level-accepted" -> now(() -> opened().levelAccepted());
            case "keep" -> keep();
            case "repeat" -> now(this::putAside);
            case "close" -> close();
            case "check-level" -> sounding(Step.LEVEL, true, r -> level = RecorderView.Level.of(r.checkLevel()));
            case "record" -> sounding(Step.FIT, false, r -> heard = RecorderView.Heard.of(r.recordTake()));
            default ->
                throw new BadInputException("the recorder cannot '" + action + "'; it can open, cautions-read,"
                        + " check-level, level-accepted, record, keep, repeat, cancel and close");
        }
        return action.equals("check-level") || action.equals("record");
    }

    private void open(RecorderForm form) throws BadInputException, IOException {
        var request = form.request(desk.folder());
        now(() -> {
            if (recording != null) {
                throw new ConflictException("the recorder of " + desk.name() + " is open already; close it first");
            }
            level = null;
            heard = null;
            recording = Recording.open(request, sound.get(), this);
        });
    }

    private void keep() throws BadInputException, IOException {
        now(() -> {
            opened().keep();
            heard = null;
        });
        Recording open = recording;
        if (open != null
                && open.session().takes().stream()
                                .mapToDouble(t -> t.load().ohm())
                                .distinct()
                                .count()
                        > 1) {
            desk.measureSoon();
        }
    }

    private void putAside() throws BadInputException, IOException {
        String aside = opened().repeat();
        heard = null;
        desk.note("the take is kept as " + aside + " and not used; its load comes again");
    }

    /** Goes on with the session as it was changed, when it is open; false when it is not. */
    boolean revise(Revising.Change change) throws BadInputException, IOException {
        if (recording == null) {
            return false;
        }
        now(() -> {
            Recording open = opened();
            open.revise(change.of(open.session()));
        });
        return true;
    }

    /** Ends a sound and closes; a take that waits for a verdict is put aside. */
    void close() throws BadInputException, IOException {
        Recording open = recording;
        if (open == null) {
            return;
        }
        open.cancel();
        driver.after(() -> {
            if (open.step() == Step.JUDGE) {
                putAside();
            }
            recording = null;
        });
    }

    /** Work on a recording that makes sound. */
    @FunctionalInterface
    private interface Sounding {
        void run(Recording open) throws BadInputException, IOException;
    }

    /** Does something that does not last. */
    private void now(Driver.Action action) throws BadInputException, IOException {
        driver.now(() -> {
            error = null;
            action.run();
        });
    }

    /** Begins something that sounds; returns when it sounds or has failed. */
    private void sounding(Step from, boolean isTrial, Sounding action) throws BadInputException, IOException {
        Recording open = opened();
        CountDownLatch latch = new CountDownLatch(1);
        driver.begin(
                () -> {
                    requireStep(open, from);
                    error = null;
                    trial = isTrial;
                    begun = latch;
                },
                () -> action.run(open),
                why -> error = why,
                () -> desk.note("the sound was cancelled"),
                () -> {
                    latch.countDown();
                    desk.publish();
                });
        try {
            latch.await(BEGINS_WITHIN_MS, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static void requireStep(Recording open, Step from) throws ConflictException {
        if (open.step() != from) {
            throw new ConflictException("the step is " + open.step().name().toLowerCase(Locale.ROOT) + ", not "
                    + from.name().toLowerCase(Locale.ROOT) + "; see where the recording stands");
        }
    }

    private Recording opened() throws ConflictException {
        Recording open = recording;
        if (open == null) {
            throw new ConflictException("the recorder of " + desk.name() + " is not open; open it first");
        }
        return open;
    }

    @Override
    public void stepped(Step step) {
        if (step == Step.SOUNDING) {
            desk.publish();
            begun.countDown();
        }
    }

    @Override
    public void heard(double peakDbfs, double rmsDbfs, double share) {
        desk.tell("level", new DeskEvent.Level(peakDbfs, rmsDbfs, share));
    }

    @Override
    public void noted(String message) {
        desk.note(message);
    }

    /** Ends for good. */
    void end() {
        try {
            close();
        } catch (BadInputException | IOException e) {
            // What was recorded lies on the disk; the next start puts it aside.
            recording = null;
        }
        driver.end();
    }
}
