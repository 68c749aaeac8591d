package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeFiles;
import ohmprint.circuit.AddedInput.PhantomFedInput;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.StatedInput;
import ohmprint.circuit.UnknownInput;
import ohmprint.impedance.Microphone;
import ohmprint.session.Assumed;
import ohmprint.session.InputCurve;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.Stimulus;
import ohmprint.session.StimulusKind;
import ohmprint.session.Take;
import ohmprint.yaml.ManifestException;
import org.jspecify.annotations.Nullable;

/**
 * The manifest of a session in whatever state it is, and its parts as they are filled in.
 *
 * @param session what it says, or null when it cannot be understood
 * @param problem what is wrong with it or with the files that it names, one line each, or null
 */
public record Manifest(@Nullable Session session, @Nullable String problem) {
    /** Reads it; takes may be missing still. Where a link leads out of the workspace, nothing is read. */
    static Manifest read(Path folder, PathGuard places) {
        String problem;
        try {
            places.refuseLinks(folder);
        } catch (BadInputException | IOException e) {
            return new Manifest(null, String.valueOf(e.getMessage()));
        }
        try {
            return new Manifest(new SessionReader(TakeFiles.probe()).readUnfinished(folder), null);
        } catch (ManifestException e) {
            problem = String.valueOf(e.getMessage());
        }
        try {
            return new Manifest(SessionReader.readManifest(folder), problem);
        } catch (ManifestException e) {
            return new Manifest(null, problem);
        }
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

    /** A microphone as it is filled in, of which empty texts count as not given and a missing label as an empty one. */
    static Microphone microphone(Microphone m) {
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
    public record StimulusEntry(
            @Nullable String kind, @Nullable String file) {
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
            @Nullable ResistanceValue loadOhm,
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
                    new ResistanceValue(load.ohm()),
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
            return new Take(file, load(file))
                    .onChannels(channel == null ? 1 : channel, referenceChannel)
                    .withNote(Query.filled(note))
                    .at(time(file));
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
                        take + " has the time '" + time
                                + "'; write date, time and offset like 2031-05-04T16:20:00+02:00",
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
            @Nullable ResistanceValue resistanceOhm,
            @Nullable Double resistanceTolerancePercent,
            @Nullable Double capacitancePf,
            @Nullable String curve,
            boolean addPhantomFeeds) {
        static InputEntry of(Session session) {
            InputImpedance input = session.input();
            boolean fed = input instanceof PhantomFedInput;
            InputImpedance bare = input instanceof PhantomFedInput feeds ? feeds.bare() : input;
            if (bare instanceof StatedInput stated) {
                return new InputEntry(
                        new ResistanceValue(stated.ohm()),
                        stated.tolerancePercent(),
                        stated.capacitancePf(),
                        null,
                        fed);
            }
            if (bare instanceof UnknownInput unknown) {
                return new InputEntry(new ResistanceValue(Double.NaN), null, unknown.capacitancePf(), null, fed);
            }
            return new InputEntry(null, null, null, session.inputCurveFile(), fed);
        }

        /** The session with this input. What the form does not show, the tolerance of the capacitance, stays as it was. */
        Session into(Session session, PathGuard places) throws BadInputException, IOException {
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

        private static InputImpedance measured(Session session, PathGuard places, String file)
                throws BadInputException, IOException {
            try {
                return InputCurve.read(places.existing(session.folder(), file));
            } catch (ManifestException e) {
                throw new BadInputException(String.valueOf(e.getMessage()), e);
            }
        }
    }
}
