package ohmprint.app.workspace;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A session as it lies in its folder, and what goes on with it.
 *
 * @param name name of its folder
 * @param folder path of it
 * @param microphone the microphone, or null when the manifest does not tell
 * @param input the recording input, or null likewise
 * @param stimulus what was played, or null
 * @param takes takes in the order of the manifest
 * @param unlisted recordings in the folder that are no takes
 * @param plannedOhm loads that are to be recorded, in order; none when nothing is planned
 * @param problem what is wrong with the manifest or its files, one line each, or null
 * @param hasCurve whether it has been measured
 * @param curveOutdated whether something has changed since
 * @param revision grows with each change
 * @param recorder where its recording stands, or null when none is going on
 */
public record SessionView(
        String name,
        String folder,
        @Nullable MicrophoneForm microphone,
        @Nullable InputForm input,
        @Nullable StimulusForm stimulus,
        List<TakeForm> takes,
        List<AudioFileView> unlisted,
        List<Ohms> plannedOhm,
        @Nullable String problem,
        boolean hasCurve,
        boolean curveOutdated,
        long revision,
        @Nullable RecorderView recorder) {}
