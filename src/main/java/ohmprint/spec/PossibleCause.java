package ohmprint.spec;

/**
 * What may be behind a deviation. Common practice of the trade, no source.
 *
 * @param pattern the shape of the deviation that was seen
 * @param cause what usually is behind it
 * @param confirm the step that confirms or rules it out
 * @param caution what to mind with that step
 */
public record PossibleCause(String pattern, String cause, String confirm, String caution) {}
