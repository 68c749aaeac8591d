package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.Lock;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeFiles;
import ohmprint.curve.Microphone;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.PhantomFedInput;
import ohmprint.circuit.StatedInput;
import ohmprint.circuit.UnknownInput;
import ohmprint.manifest.ManifestException;
import ohmprint.session.Assumed;
import ohmprint.session.InputCurve;
import ohmprint.session.Session;
import ohmprint.session.SessionWriter;
import ohmprint.session.Stimulus;
import ohmprint.session.StimulusKind;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * Changes of a session's manifest as it is filled in, one after another: through the recorder as long as it is open, else in
 * the file. Takes are entries here; recordings themselves are never changed or removed.
 */
public final class ManifestEditor {
    private final String name;
    private final Path folder;
    private final Places places;
    private final Lock changing;
    private final Revision open;
    private final Changed changed;

    /**
     * An editor.
     *
     * @param name name of the session
     * @param folder folder of it
     * @param changing held during each change
     * @param open changes the session where it is open in the recorder
     * @param changed is told of each change before the next may begin
     */
    ManifestEditor(String name, Path folder, Places places, Lock changing, Revision open, Changed changed) {
        this.name = name;
        this.folder = folder;
        this.places = places;
        this.changing = changing;
        this.open = open;
        this.changed = changed;
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
        T of(T before) throws BadInputException, IOException;
    }

    /** Changes a session that is held open; false when it is not. */
    @FunctionalInterface
    interface Revision {
        boolean revise(Edit<Session> change) throws BadInputException, IOException;
    }

    /** Tells all who listen how things stand after a change, and returns it. */
    @FunctionalInterface
    interface Changed {
        SessionView tell() throws IOException;
    }

    /** Changes the microphone; the change gets what it is like now. */
    public SessionView microphone(Edit<Microphone> edit) throws BadInputException, IOException {
        return edit(s -> s.withMicrophone(plain(edit.of(s.microphone()))));
    }

    /** Changes the recording input, likewise. */
    public SessionView input(Edit<InputEntry> edit) throws BadInputException, IOException {
        return edit(s -> edit.of(InputEntry.of(s)).into(s, places));
    }

    /** States what was played. */
    public SessionView stimulus(StimulusEntry entry) throws BadInputException, IOException {
        if (entry.file() != null) {
            places.existing(folder, entry.file());
        }
        return edit(s -> s.withStimulus(entry.stimulus()));
    }

    /** Makes a recording of the folder a take. */
    public SessionView addTake(TakeEntry entry) throws BadInputException, IOException {
        Take take = entry.take();
        check(take);
        return edit(s -> s.withTake(take));
    }

    /** Changes the entry of a take; its file stays. */
    public SessionView changeTake(String file, Edit<TakeEntry> edit) throws BadInputException, IOException {
        return edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            int at = indexOf(s, file);
            Take after = edit.of(TakeEntry.of(takes.get(at))).take();
            if (!after.file().equals(file)) {
                throw new BadInputException("the file of the take " + file + " cannot become " + after.file()
                        + "; take it out of the session and add the other");
            }
            check(after);
            takes.set(at, after);
            return s.withTakes(takes);
        });
    }

    /** Takes an entry out of the session; the recording stays in the folder. */
    public SessionView removeTake(String file) throws BadInputException, IOException {
        return edit(s -> {
            List<Take> takes = new ArrayList<>(s.takes());
            takes.remove(indexOf(s, file));
            return s.withTakes(takes);
        });
    }

    /** Refuses what a session could not be read with. */
    private void check(Take take) throws BadInputException, IOException {
        if (FolderFiles.isUnfinished(take.file())) {
            throw new ConflictException(take.file() + " is being recorded or was broken off; open the recorder, which"
                    + " gives it its name");
        }
        Path file = places.existing(folder, take.file());
        int channels;
        try {
            channels = TakeFiles.probe().shape(file).channels();
        } catch (IOException e) {
            throw new BadInputException(take.file() + " cannot be read as audio; export it again as WAV", e);
        }
        Integer reference = take.referenceChannel();
        int highest = Math.max(take.channel(), reference == null ? 1 : reference);
        if (highest > channels || take.channel() < 1 || (reference != null && reference < 1)) {
            throw new BadInputException(take.file() + " has " + channels + (channels == 1 ? " channel" : " channels")
                    + ", so there is no channel " + (highest > channels ? highest : 0) + "; correct the number");
        }
    }

    private static int indexOf(Session session, String file) throws MissingException {
        for (int k = 0; k < session.takes().size(); k++) {
            if (session.takes().get(k).file().equals(file)) {
                return k;
            }
        }
        throw new MissingException("the session has no take " + file + "; reload the page to see which takes it has");
    }

    /** Changes the manifest as a whole. */
    private SessionView edit(Edit<Session> change) throws BadInputException, IOException {
        changing.lock();
        try {
            if (!open.revise(change)) {
                write(change);
            }
            return changed.tell();
        } catch (IllegalArgumentException e) {
            throw new BadInputException(withoutPlace(String.valueOf(e.getMessage())), e);
        } finally {
            changing.unlock();
        }
    }

    private void write(Edit<Session> change) throws BadInputException, IOException {
        Manifest manifest = Manifest.read(folder, places);
        Session before = manifest.session();
        if (before == null) {
            throw new ConflictException("the manifest of " + name + " cannot be changed as long as it cannot be"
                    + " understood: " + manifest.problem());
        }
        Session after = change.of(before);
        if (!after.equals(before)) {
            SessionWriter.write(after);
        }
    }

    /** What is wrong with a value, without the line of a manifest that was never written. */
    private static String withoutPlace(String message) {
        return message.replaceFirst("^the session could not be read back: session\\.yaml:[0-9]+: ", "");
    }

    /** A microphone as it is filled in, of which empty texts count as not given and a missing label as an empty one. */
    static Microphone plain(Microphone m) {
        String label = Query.filled(m.label());
        return new Microphone(
                label == null ? "" : label,
                Query.filled(m.maker()),
                Query.filled(m.model()),
                Query.filled(m.serial()),
                Query.filled(m.transducer()),
                m.ratedImpedanceOhm(),
                m.ratedMinimumLoadOhm(),
                Query.filled(m.notes()));
    }

    /**
     * What was played, as it is filled in.
     *
     * @param kind {@code sweep} or {@code noise}; null when nothing is stated about the sound
     * @param file the file that was played, or null
     */
    public record StimulusEntry(@Nullable String kind, @Nullable String file) {
        static StimulusEntry of(Stimulus stimulus) {
            return new StimulusEntry(stimulus.kind().word(), stimulus.file());
        }

        /** The stimulus, or null when nothing is stated. */
        @Nullable
        Stimulus stimulus() throws BadInputException {
            if (kind == null) {
                if (file == null) {
                    return null;
                }
                throw new BadInputException("the sound " + file + " has no kind; say whether it is a sweep or noise");
            }
            for (StimulusKind known : StimulusKind.values()) {
                if (known.word().equals(kind)) {
                    return new Stimulus(known, file);
                }
            }
            throw new BadInputException("the sound is '" + kind + "'; say sweep or noise");
        }
    }

    /**
     * A take of a session as it is filled in.
     *
     * @param file its recording
     * @param loadOhm the load resistor, or none
     * @param loadTolerancePercent its tolerance in percent; null for the usual one, and for a measured load; where
     *     given, the load counts as stated
     * @param loadUncertaintyOhm standard uncertainty of a measured load in ohms, or null
     * @param channel channel of the microphone, from 1; null for the first
     * @param referenceChannel channel that hears the sound but not the load, or null
     * @param time when it was recorded, ISO 8601 with offset, or null
     * @param note free text, or null
     */
    public record TakeEntry(
            @Nullable String file,
            @Nullable Ohms loadOhm,
            @Nullable Double loadTolerancePercent,
            @Nullable Double loadUncertaintyOhm,
            @Nullable Integer channel,
            @Nullable Integer referenceChannel,
            @Nullable String time,
            @Nullable String note) {
        static TakeEntry of(Take take) {
            Load load = take.load();
            boolean stated = !load.isOpen() && !load.isMeasured();
            return new TakeEntry(
                    take.file(),
                    new Ohms(load.ohm()),
                    stated ? (Double) load.tolerancePercent() : null,
                    load.isMeasured() ? (Double) load.standardUncertaintyOhm() : null,
                    take.channel(),
                    take.referenceChannel(),
                    take.time() == null ? null : take.time().toString(),
                    take.note());
        }

        /** The take. */
        Take take() throws BadInputException {
            if (file == null || file.isBlank()) {
                throw new BadInputException("a take has no file; name a recording of the session");
            }
            return new Take(
                    file,
                    load(file),
                    channel == null ? 1 : channel,
                    referenceChannel,
                    Query.filled(note),
                    time(file));
        }

        private Load load(String take) throws BadInputException {
            if (loadOhm == null || loadOhm.isUnknown()) {
                throw new BadInputException(take + " has no load; give the resistor in ohms, or open for none");
            }
            try {
                if (loadOhm.isOpen()) {
                    return Load.open();
                }
                return loadUncertaintyOhm != null && loadTolerancePercent == null
                        ? Load.measured(loadOhm.value(), loadUncertaintyOhm)
                        : Load.ofOhms(
                                loadOhm.value(),
                                loadTolerancePercent == null ? Assumed.LOAD_TOLERANCE_PERCENT : loadTolerancePercent);
            } catch (IllegalArgumentException e) {
                throw new BadInputException(take + ": " + e.getMessage(), e);
            }
        }

        private @Nullable OffsetDateTime time(String take) throws BadInputException {
            if (time == null || time.isBlank()) {
                return null;
            }
            try {
                return OffsetDateTime.parse(time);
            } catch (DateTimeParseException e) {
                throw new BadInputException(
                        take + " has the time '" + time + "'; write date, time and offset like 2031-05-04T16:20:00+02:00",
                        e);
            }
        }
    }

    /**
     * The recording input of a session with its cable as it is filled in.
     *
     * @param resistanceOhm its resistance, or not known; null with a curve
     * @param resistanceTolerancePercent its tolerance in percent, or null for the usual one
     * @param capacitancePf its capacitance with the cable in picofarads, or null for none
     * @param curve file in the session's folder that holds its measured impedance, or null
     * @param addPhantomFeeds whether the feed resistors of a phantom supply lie across what is stated
     */
    public record InputEntry(
            @Nullable Ohms resistanceOhm,
            @Nullable Double resistanceTolerancePercent,
            @Nullable Double capacitancePf,
            @Nullable String curve,
            boolean addPhantomFeeds) {
        static InputEntry of(Session session) {
            InputImpedance input = session.input();
            boolean fed = input instanceof PhantomFedInput;
            InputImpedance bare = input instanceof PhantomFedInput feeds ? feeds.bare() : input;
            if (bare instanceof StatedInput stated) {
                return new InputEntry(new Ohms(stated.ohm()), stated.tolerancePercent(), stated.capacitancePf(), null, fed);
            }
            if (bare instanceof UnknownInput unknown) {
                return new InputEntry(new Ohms(Double.NaN), null, unknown.capacitancePf(), null, fed);
            }
            return new InputEntry(null, null, null, session.inputCurveFile(), fed);
        }

        /** The session with this input. What the form does not show, the tolerance of the capacitance, stays as it was. */
        Session into(Session session, Places places) throws BadInputException, IOException {
            String file = Query.filled(curve);
            InputImpedance bare = file == null ? stated(session.input()) : measured(session, places, file);
            try {
                return session.withInput(addPhantomFeeds ? bare.withPhantomFeeds() : bare, file);
            } catch (IllegalArgumentException e) {
                throw new BadInputException(String.valueOf(e.getMessage()), e);
            }
        }

        private InputImpedance stated(InputImpedance before) throws BadInputException {
            if (resistanceOhm == null || resistanceOhm.isOpen()) {
                throw new BadInputException("the recording input has no resistance; give it in ohms, or say that it is"
                        + " unknown, or name a measured curve");
            }
            double pf = capacitancePf == null ? 0 : capacitancePf;
            double pfTolerance = capacitanceTolerance(before);
            try {
                return resistanceOhm.isUnknown()
                        ? InputImpedance.unknownResistance(pf, pfTolerance)
                        : InputImpedance.ofOhms(
                                resistanceOhm.value(),
                                resistanceTolerancePercent == null
                                        ? Assumed.INPUT_TOLERANCE_PERCENT
                                        : resistanceTolerancePercent,
                                pf,
                                pfTolerance);
            } catch (IllegalArgumentException e) {
                throw new BadInputException(String.valueOf(e.getMessage()), e);
            }
        }

        private static double capacitanceTolerance(InputImpedance before) {
            InputImpedance bare = before instanceof PhantomFedInput feeds ? feeds.bare() : before;
            if (bare instanceof StatedInput stated && stated.capacitancePf() != 0) {
                return stated.capacitanceTolerancePercent();
            }
            return bare instanceof UnknownInput unknown && unknown.capacitancePf() != 0
                    ? unknown.capacitanceTolerancePercent()
                    : Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT;
        }

        private static InputImpedance measured(Session session, Places places, String file)
                throws BadInputException, IOException {
            try {
                return InputCurve.read(places.existing(session.folder(), file));
            } catch (ManifestException e) {
                throw new BadInputException(String.valueOf(e.getMessage()), e);
            }
        }
    }
}
