package ohmprint.app.workspace;

import java.io.IOException;
import java.util.Locale;
import java.util.concurrent.CancellationException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
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
    private static final int ENDS_WITHIN_SECONDS = 10;

    private final Desk desk;
    private final Supplier<SoundSystem> sound;
    private final ExecutorService driving;
    private final AtomicBoolean busy = new AtomicBoolean();
    private volatile @Nullable Recording recording;
    private volatile RecorderView.@Nullable Level level;
    private volatile RecorderView.@Nullable Heard heard;
    private volatile @Nullable String error;
    private volatile boolean trial;
    private volatile CountDownLatch begun = new CountDownLatch(0);

    Recorder(Desk desk, Supplier<SoundSystem> sound) {
        this.desk = desk;
        this.sound = sound;
        this.driving = Executors.newSingleThreadExecutor(work -> {
            Thread thread = new Thread(work, "recorder of " + desk.name());
            thread.setDaemon(true);
            return thread;
        });
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
        return busy.get();
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
        desk.tell("note", new DeskEvent.Note("the take is kept as " + aside + " and not used; its load comes again"));
    }

    /** Goes on with the session as it was changed, when it is open; false when it is not. */
    boolean revise(Desk.Change change) throws BadInputException, IOException {
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
        try {
            driving.submit(() -> {
                        if (open.step() == Step.JUDGE) {
                            putAside();
                        }
                        recording = null;
                        return true;
                    })
                    .get(ENDS_WITHIN_SECONDS, TimeUnit.SECONDS);
        } catch (ExecutionException e) {
            throw unwrapped(e);
        } catch (java.util.concurrent.TimeoutException e) {
            throw new ConflictException("the sound device does not let go; take it off and close again");
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Work on the driving thread. */
    @FunctionalInterface
    private interface Action {
        void run() throws BadInputException, IOException;
    }

    /** Work on a recording that makes sound. */
    @FunctionalInterface
    private interface Sounding {
        void run(Recording open) throws BadInputException, IOException;
    }

    private void take(String what) throws ConflictException {
        if (!busy.compareAndSet(false, true)) {
            throw new ConflictException("the recorder of " + desk.name() + " is at work, so it cannot " + what
                    + " now; wait for the end of the sound, or cancel it");
        }
    }

    /** Does something that does not last, and waits for it. */
    private void now(Action action) throws BadInputException, IOException {
        take("do this");
        try {
            error = null;
            driving.submit(() -> {
                        action.run();
                        return true;
                    })
                    .get();
        } catch (ExecutionException e) {
            throw unwrapped(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            busy.set(false);
        }
    }

    private static IOException unwrapped(ExecutionException e) throws BadInputException, IOException {
        Throwable cause = e.getCause();
        if (cause instanceof BadInputException bad) {
            throw bad;
        }
        if (cause instanceof IOException io) {
            throw io;
        }
        if (cause instanceof IllegalStateException || cause instanceof IllegalArgumentException) {
            throw new ConflictException(String.valueOf(cause.getMessage()));
        }
        throw new IllegalStateException("the recorder failed", cause);
    }

    /** Begins something that sounds; returns when it sounds or has failed. */
    private void sounding(Step from, boolean isTrial, Sounding action) throws BadInputException {
        Recording open = opened();
        take("start a sound");
        if (open.step() != from) {
            busy.set(false);
            throw new ConflictException("the step is " + open.step().name().toLowerCase(Locale.ROOT) + ", not "
                    + from.name().toLowerCase(Locale.ROOT) + "; see where the recording stands");
        }
        error = null;
        trial = isTrial;
        CountDownLatch latch = new CountDownLatch(1);
        begun = latch;
        driving.execute(() -> {
            try {
                action.run(open);
            } catch (CancellationException e) {
                desk.tell("note", new DeskEvent.Note("the sound was cancelled"));
            } catch (BadInputException | IOException e) {
                error = String.valueOf(e.getMessage());
            } catch (RuntimeException e) {
                error = "this is a fault of the program: " + e;
            } finally {
                busy.set(false);
                latch.countDown();
                desk.publish();
            }
        });
        try {
            latch.await(BEGINS_WITHIN_MS, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
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
        desk.tell("note", new DeskEvent.Note(message));
    }

    /** Ends for good. */
    void end() {
        try {
            close();
        } catch (BadInputException | IOException e) {
            // What was recorded lies on the disk; the next start puts it aside.
            recording = null;
        }
        driving.shutdown();
    }
}
