package ohmprint.library;

/**
 * What became of a measurement that was added.
 *
 * @param id its identifier, twelve hexadecimal digits
 * @param fresh false when the library held it already, so that nothing was changed
 */
public record Added(String id, boolean fresh) {}
