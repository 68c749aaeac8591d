package ohmprint.impedance;

import org.jspecify.annotations.Nullable;

/**
 * One thing that a user must hear about the takes.
 *
 * @param code its kind
 * @param take file name of the take concerned, or null when it concerns the session
 * @param message plain words: the thing, the value, the unit and the next step
 */
public record Finding(FindingCode code, @Nullable String take, String message) {}
