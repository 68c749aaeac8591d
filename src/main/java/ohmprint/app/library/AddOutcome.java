package ohmprint.app.library;

/**
 * What became of a curve that was added.
 *
 * @param source where it was read
 * @param id its identifier
 * @param label what the bench calls the microphone
 * @param fresh false when the library held it already, so that nothing was changed
 */
public record AddOutcome(String source, String id, String label, boolean fresh) {}
