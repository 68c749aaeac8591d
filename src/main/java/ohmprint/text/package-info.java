/**
 * Numbers and words as people and files read them, whatever the locale: the one place that decides on digits, units and
 * signs.
 *
 * <p>In use:
 *
 * <pre>{@code
 * String column = Numbers.frequency(1000); // 1.00 kHz
 * String sentence = Numbers.briefFrequency(1000); // 1 kHz
 * Rounded z = Rounded.of(201.37, 1.234); // 201.4 and 1.2
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.text;
