package ohmprint.app.workspace;

import org.jspecify.annotations.Nullable;

/**
 * A session that is to be begun.
 *
 * @param name name of its folder, or null to make one from the label
 * @param microphone what is measured; null for an empty folder that a manifest is put into
 * @param input the recording input, or null for one that is not known
 * @param loads loads to be recorded, or null
 */
public record NewSession(
        @Nullable String name,
        @Nullable MicrophoneForm microphone,
        @Nullable InputForm input,
        @Nullable LoadsForm loads) {}
