package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.RecordRequest;
import ohmprint.app.record.Recording;
import ohmprint.app.record.Recording.Step;
import ohmprint.app.record.TakeReport;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.session.Assumed;
import ohmprint.session.Session;
import org.jspecify.annotations.Nullable;

/**
 * The recorder of one session: what it is asked for, how it stands, and what it tells. One thread of its own drives the {@link Recording}; whoever asks for sound gets an answer at
 * once and hears the rest as events. While it works, everything but {@code cancel} is refused, so that two windows cannot
 * start two takes.
 */
public final class Recorder implements Recording.Listener {
    private static final int BEGINS_WITHIN_MS = 1500;

    private final String name;
    private final Path folder;
    private final Watcher watcher;
    private final Supplier<SoundSystem> sound;
    private final RecordingExecutor driver;
    private volatile @Nullable Recording recording;
    private volatile @Nullable LevelReport level;
    private volatile @Nullable TakeReport heard;
    private volatile @Nullable String error;
    private volatile boolean trial;
    private volatile CountDownLatch begun = new CountDownLatch(0);

    /**
     * A recorder that is closed.
     *
     * @param name name of the session
     * @param folder folder of it
     * @param sound the devices of this computer
     * @param watcher hears what becomes of it
     */
    Recorder(String name, Path folder, Supplier<SoundSystem> sound, Watcher watcher) {
        this.name = name;
        this.folder = folder;
        this.sound = sound;
        this.watcher = watcher;
        this.driver = new RecordingExecutor("recorder of " + name);
    }

    /** Hears what becomes of a recorder; must return at once. */
    interface Watcher {
        /** It stands otherwise than before. */
        void changed();

        /** There are takes with different loads, so that a curve can be had of them. */
        void measurable();

        /** The microphone's level while sound runs. */
        void level(Level level);

        /** Something worth a word. */
        void note(String message);
    }

    /**
     * The microphone's level while sound runs.
     *
     * @param peakDbfs highest sample since the last reading, dBFS
     * @param rmsDbfs mean square since then, dBFS
     * @param share share of the take that is recorded, 0 to 1
     */
    public record Level(double peakDbfs, double rmsDbfs, double share) {}

    /** Where it stands, or null when it is not open. */
    @Nullable
    State state() {
        Recording open = recording;
        if (open == null) {
            return null;
        }
        Step step = open.step();
        var remaining = open.remainingOhms().stream().map(ResistanceValue::new).toList();
        return new State(
                step.name().toLowerCase(Locale.ROOT),
                trial && step == Step.SOUNDING,
                Cautions.all(),
                open.recorder(),
                open.takeSeconds(),
                remaining,
                new ResistanceValue(open.levelOhm()),
                remaining.isEmpty() ? null : remaining.get(0),
                level,
                step == Step.JUDGE ? heard : null,
                error);
    }

    /** Name that the take gets which waits for a verdict, or null when none does. */
    @Nullable
    String waiting() {
        Recording open = recording;
        TakeReport last = heard;
        return open != null && open.step() == Step.JUDGE && last != null ? last.file() : null;
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
    boolean act(Request form) throws BadInputException, IOException {
        String action = form.action() == null ? "" : form.action();
        switch (action) {
            case "open" -> open(form);
            case "cancel" -> opened().cancel();
            case "cautions-read" -> now(() -> opened().cautionsRead());
            case "level-accepted" -> now(() -> opened().levelAccepted());
            case "keep" -> keep();
            case "repeat" -> now(this::putAside);
            case "close" -> close();
            case "check-level" -> sounding(Step.LEVEL, true, r -> level = r.checkLevel());
            case "record" -> sounding(Step.FIT, false, r -> heard = r.recordTake());
            default ->
                throw new BadInputException("the recorder cannot '" + action + "'; it can open, cautions-read,"
                        + " check-level, level-accepted, record, keep, repeat, cancel and close");
        }
        return action.equals("check-level") || action.equals("record");
    }

    private void open(Request form) throws BadInputException, IOException {
        var request = form.request(folder);
        now(() -> {
            if (recording != null) {
                throw new ConflictException("the recorder of " + name + " is open already; close it first");
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
            watcher.measurable();
        }
    }

    private void putAside() throws BadInputException, IOException {
        String aside = opened().repeat();
        heard = null;
        watcher.note("the take is kept as " + aside + " and not used; its load comes again");
    }

    /** Goes on with the session as it was changed, when it is open; false when it is not. */
    boolean revise(Manifest.Edit<Session> change) throws BadInputException, IOException {
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
    private void now(RecordingExecutor.Action action) throws BadInputException, IOException {
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
                () -> watcher.note("the sound was cancelled"),
                () -> {
                    latch.countDown();
                    watcher.changed();
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
            throw new ConflictException("the recorder of " + name + " is not open; open it first");
        }
        return open;
    }

    @Override
    public void stepped(Step step) {
        if (step == Step.SOUNDING) {
            watcher.changed();
            begun.countDown();
        }
    }

    @Override
    public void heard(double peakDbfs, double rmsDbfs, double share) {
        watcher.level(new Level(peakDbfs, rmsDbfs, share));
    }

    @Override
    public void noted(String message) {
        watcher.note(message);
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

    /**
     * What the recorder of a session is to do.
     *
     * @param action {@code open}, {@code cautions-read}, {@code check-level}, {@code level-accepted}, {@code record}, {@code
     *     keep}, {@code repeat}, {@code cancel} or {@code close}
     * @param bench devices and channels, to open it
     * @param sound what to play, to open it for a session without a sound; null for the usual sweep
     * @param loads loads of the takes, to open it; null for those that are planned
     */
    public record Request(
            @Nullable String action,
            @Nullable Devices bench,
            @Nullable Sound sound,
            @Nullable Loads loads) {
        private static final int MOST_CHANNELS = 32;
        private static final double LONGEST_SECONDS = 120;

        /**
         * Devices and channels; what is null is left to the program.
         *
         * @param inputDevice name of the recording device or a part of it
         * @param outputDevice name of the playing device or a part of it
         * @param sampleRate sample rate in hertz
         * @param channels channels to open
         * @param channel channel of the microphone, from 1
         * @param referenceChannel channel that hears the sound but not the load, from 1
         */
        public record Devices(
                @Nullable String inputDevice,
                @Nullable String outputDevice,
                @Nullable Integer sampleRate,
                @Nullable Integer channels,
                @Nullable Integer channel,
                @Nullable Integer referenceChannel) {
            RecordRequest.Bench bench() throws BadInputException {
                between(sampleRate, 8000, 768_000, "sample rate", "Hz");
                between(channels, 1, MOST_CHANNELS, "number of channels", "");
                between(channel, 1, MOST_CHANNELS, "channel of the microphone", "");
                between(referenceChannel, 1, MOST_CHANNELS, "channel of the reference", "");
                return new RecordRequest.Bench(
                        text(inputDevice),
                        text(outputDevice),
                        sampleRate,
                        channels,
                        channel,
                        referenceChannel,
                        null,
                        null);
            }

            private static @Nullable String text(@Nullable String given) {
                return given == null || given.isBlank() ? null : given;
            }
        }

        /**
         * What to play; what is null is left to the program.
         *
         * @param kind {@code sweep} or {@code noise}
         * @param seconds its length
         * @param fromHz lower end of a sweep, hertz
         * @param toHz upper end of a sweep, hertz
         * @param peakDbfs peak level in dBFS
         */
        public record Sound(
                @Nullable String kind,
                @Nullable Double seconds,
                @Nullable Double fromHz,
                @Nullable Double toHz,
                @Nullable Double peakDbfs) {
            RecordRequest.Sound sound() throws BadInputException {
                RecordRequest.Sound usual = RecordRequest.Sound.USUAL;
                if (kind != null && !kind.equals("sweep") && !kind.equals("noise")) {
                    throw new BadInputException("the sound is '" + kind + "'; choose sweep or noise");
                }
                between(seconds, 0.5, LONGEST_SECONDS, "length of the sound", "s");
                between(fromHz, 1, 384_000, "lower end of the sweep", "Hz");
                between(toHz, 1, 384_000, "upper end of the sweep", "Hz");
                between(peakDbfs, -80, 0, "level of the sound", "dBFS");
                double from = fromHz == null ? usual.fromHz() : fromHz;
                double to = toHz == null ? usual.toHz() : toHz;
                if (from >= to) {
                    throw new BadInputException(
                            "the sweep runs from " + from + " Hz to " + to + " Hz; give the lower end first");
                }
                return new RecordRequest.Sound(
                        null,
                        "noise".equals(kind),
                        seconds == null ? usual.seconds() : seconds,
                        from,
                        to,
                        peakDbfs == null ? usual.peakDbfs() : peakDbfs);
            }
        }

        /** What is to be recorded in a folder. */
        RecordRequest request(Path folder) throws BadInputException {
            return new RecordRequest(
                    folder,
                    null,
                    null,
                    loads == null ? null : loads.loads(),
                    sound == null ? null : sound.sound(),
                    bench == null ? RecordRequest.Bench.USUAL : bench.bench(),
                    null);
        }

        private static void between(@Nullable Number given, double least, double most, String what, String unit)
                throws BadInputException {
            if (given != null && !(given.doubleValue() >= least && given.doubleValue() <= most)) {
                throw new BadInputException("the " + what + " is " + given + " " + unit + "; give " + plain(least)
                        + " to " + plain(most) + " " + unit);
            }
        }

        /** A number without a point when it is whole. */
        private static String plain(double value) {
            return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
        }
    }

    /**
     * Where the recording of a session stands.
     *
     * @param step {@code cautions}, {@code level}, {@code fit}, {@code sounding}, {@code judge} or {@code done}
     * @param trial whether what sounds is the level check
     * @param cautions what has to be read before anything is connected or played
     * @param recorder rate and channels in words
     * @param takeSeconds length of a take in seconds
     * @param remainingOhm loads of the takes to come
     * @param levelOhm load with which the level is set
     * @param nextOhm load of the next take, or null when all are kept
     * @param level what the last level check showed, or null
     * @param take the take that waits for a verdict, or null
     * @param error what went wrong last, in words, or null
     */
    public record State(
            String step,
            boolean trial,
            List<String> cautions,
            String recorder,
            double takeSeconds,
            List<ResistanceValue> remainingOhm,
            ResistanceValue levelOhm,
            @Nullable ResistanceValue nextOhm,
            @Nullable LevelReport level,
            @Nullable TakeReport take,
            @Nullable String error) {}

    /**
     * Loads that are to be recorded, as they are filled in.
     *
     * @param ohm resistors in the order of the takes
     * @param tolerancePercent tolerance of all of them in percent, or null for the usual one
     * @param repeatFirst whether the first comes once more at the end; null for yes
     */
    public record Loads(
            @Nullable List<ResistanceValue> ohm,
            @Nullable Double tolerancePercent,
            @Nullable Boolean repeatFirst) {
        /** The loads. */
        RecordRequest.Loads loads() throws BadInputException {
            if (ohm == null || ohm.stream().anyMatch(o -> o == null || o.isUnknown())) {
                throw new BadInputException("the loads are not all stated; give each in ohms, or open for none");
            }
            return new RecordRequest.Loads(
                    ohm.stream().map(ResistanceValue::value).toList(),
                    tolerancePercent == null ? Assumed.LOAD_TOLERANCE_PERCENT : tolerancePercent,
                    repeatFirst == null || repeatFirst);
        }
    }
}
