package ohmprint.library;

/**
 * A measurement that resembles the one that was asked about.
 *
 * @param entry the measurement
 * @param distance root mean square over the third octaves compared of the difference of ln|Z| in standard deviations, which
 *     hold both uncertainties and what units of one model differ by; about 1 or less: as like as two units of one model
 * @param differencePercent root mean square of the difference of |Z|, percent
 * @param bands number of third octaves compared
 */
public record Likeness(Entry entry, double distance, double differencePercent, int bands) {}
