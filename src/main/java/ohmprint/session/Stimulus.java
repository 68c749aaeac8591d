package ohmprint.session;

import org.jspecify.annotations.Nullable;

/**
 * What was played during the takes.
 *
 * @param kind sweep or noise
 * @param file the file that was played, relative to the session's folder, or null when there is none
 */
public record Stimulus(StimulusKind kind, @Nullable String file) {}
