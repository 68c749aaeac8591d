package ohmprint.library;

import java.time.Instant;

/**
 * A specification as the library keeps it; what its text means is not known here.
 *
 * @param name its name
 * @param revision counted from 1
 * @param sha256 SHA-256 of the text
 * @param yaml the text
 * @param by who kept it
 * @param at when
 */
public record KeptSpecification(String name, int revision, String sha256, String yaml, String by, Instant at) {}
