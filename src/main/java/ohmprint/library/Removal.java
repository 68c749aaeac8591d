package ohmprint.library;

import java.time.Instant;

/**
 * The record of a measurement that was removed.
 *
 * @param id its identifier
 * @param sha256 SHA-256 of its document
 * @param label what the bench called the microphone
 * @param reason why
 * @param by who; on a server its login
 * @param at when
 */
public record Removal(String id, String sha256, String label, String reason, String by, Instant at) {}
