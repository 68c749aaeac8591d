package ohmprint.session;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import ohmprint.circuit.InputImpedance;
import ohmprint.impedance.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * What was recorded, of what, with which loads and into which input.
 *
 * @param folder folder that holds the manifest and all files
 * @param microphone what was measured
 * @param input the recording input with its cable
 * @param inputCurveFile file, relative to the folder, that {@code input} was read from; null when it was stated
 * @param stimulus what was played, or null when that is not stated
 * @param takes the recordings in the order of the manifest
 * @param levelDriftPercent standard uncertainty of the level between takes in percent, or null when not stated
 * @param operator who recorded, or null
 * @param workshop where, or null
 * @param notes free text, or null
 */
public record Session(
        Path folder,
        Microphone microphone,
        InputImpedance input,
        @Nullable String inputCurveFile,
        @Nullable Stimulus stimulus,
        List<Take> takes,
        @Nullable Double levelDriftPercent,
        @Nullable String operator,
        @Nullable String workshop,
        @Nullable String notes) {
    /** The name of the manifest within the folder. */
    public static final String MANIFEST = "session.yaml";

    /** Copies the list of takes. */
    public Session {
        takes = List.copyOf(takes);
    }

    /** A session with the required parts only. */
    public Session(Path folder, Microphone microphone, InputImpedance input, List<Take> takes) {
        this(folder, microphone, input, null, null, takes, null, null, null, null);
    }

    /** The audio file of a take. */
    public Path path(Take take) {
        return folder.resolve(take.file());
    }

    /** The file that was played, if the session has it. */
    public Optional<Path> stimulusPath() {
        return Optional.ofNullable(stimulus).map(Stimulus::file).map(folder::resolve);
    }

    /** The same session with one more take at the end. */
    public Session withTake(Take take) {
        List<Take> more = new ArrayList<>(takes);
        more.add(take);
        return withTakes(more);
    }

    /** The same session with these takes. */
    public Session withTakes(List<Take> others) {
        return new Session(
                folder,
                microphone,
                input,
                inputCurveFile,
                stimulus,
                others,
                levelDriftPercent,
                operator,
                workshop,
                notes);
    }

    /** The same session with this stimulus. */
    public Session withStimulus(@Nullable Stimulus other) {
        return new Session(
                folder, microphone, input, inputCurveFile, other, takes, levelDriftPercent, operator, workshop, notes);
    }

    /** The same session of this microphone. */
    public Session withMicrophone(Microphone other) {
        return new Session(
                folder, other, input, inputCurveFile, stimulus, takes, levelDriftPercent, operator, workshop, notes);
    }

    /**
     * The same session with this recording input.
     *
     * @param curveFile file, relative to the folder, that it was read from; null when it was stated
     */
    public Session withInput(InputImpedance other, @Nullable String curveFile) {
        return new Session(
                folder, microphone, other, curveFile, stimulus, takes, levelDriftPercent, operator, workshop, notes);
    }
}
