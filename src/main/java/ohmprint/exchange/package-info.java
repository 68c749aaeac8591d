/**
 * Curves, measurements and specifications as text that other programs read, and back.
 *
 * <p>{@link ohmprint.exchange.CurveFormat} lists the forms of a curve with their names, endings, media types, writers and
 * readers; whoever offers, writes or reads a curve in a form of the user's choice asks it.
 *
 * <p>{@link ohmprint.exchange.CurveCsv}: one table row per band. Header
 * {@code frequency_hz,magnitude_ohm,phase_deg,resistance_ohm,reactance_ohm,magnitude_u95_ohm,phase_u95_deg,snr_db,status,
 * magnitude_low_ohm,magnitude_high_ohm}; status {@code measured}, {@code interval} or {@code rejected}; the last two
 * columns are filled for intervals only, the values of a rejected band are empty, and so is whatever the evidence does
 * not determine. Numbers have nine significant digits, lines end in LF.
 *
 * <p>{@link ohmprint.exchange.CurveJson}: the whole measurement with findings, budget and provenance, as an object whose
 * {@code format} is {@code ohmprint-curve} and whose {@code version} is 1. Numbers carry all digits of a double;
 * {@code null} stands for what is not determined, for not-a-number and for infinity (an open load is {@code "open"}).
 * Keys are always present and always in the same order. Version 1 stays readable: keys that later programs added to it may
 * be missing on reading, such as {@code covariance_across_bands}, which tells how the errors of the bands belong together:
 * the covariance of bands a and b is {@code Σ d_a·d_bᵀ} over its {@code causes} with {@code d = (dr_ohm, dx_ohm)}, plus the
 * {@code noise} of the band for a = b; {@code consistency} with the χ² of takes, entered values and bands, null with fewer than
 * three takes; {@code files} with the SHA-256 of each file that was written beside it, absent when it stands alone; in each band
 * {@code u95_by_draws}, true where its uncertainties come from random draws; and, only where levels alone tell R and |Z|,
 * {@code outline}, the edge of the region in which both lie with the confidence of a 95 % interval, as lists
 * {@code resistance_ohm} and {@code magnitude_ohm}: the interval of what follows from R and |Z| is its range over the edge.
 *
 * <p>{@link ohmprint.exchange.Touchstone}: the open network-parameter format, one port, impedance. Files are written as
 * version 1 with a reference of 1 Ω, {@code # Hz Z RI R 1}: version 1 normalises impedances to the reference and version
 * 2 does not, so that with 1 Ω both readings agree.
 *
 * <p>{@link ohmprint.exchange.SpecificationYaml}: a specification, version 1. Keys marked * are required in their part; one
 * of the parts from {@code rated_impedance} on is required.
 *
 * <pre>{@code
 * version: 1                 * format of this file
 * name, notes                  text
 * microphone:                  what it applies to: maker, model, transducer
 * rated_impedance:             |Z| at one frequency
 *   ohm, tolerance_percent   * ohms; percent to both sides
 *   at_hz                      default 1000
 * mask:                        limits in ranges of frequencies
 *   - from_hz, to_hz         * hertz
 *     min_ohm, max_ohm         one of them or both
 * resonance:                   window for the frequency of the greatest |Z|
 *   from_hz, to_hz           * hertz
 *   search_from_hz, search_to_hz   default a third of from_hz and three times to_hz
 * reference:                   a curve with limits to both sides
 *   points                     a list, or curve
 *   - hz                     * ascending
 *     ohm, low_ohm, high_ohm   limits, and where there are none ohm and tolerance_percent
 *     u95_percent              95 % uncertainty of the point, default 0
 *   curve                      a curve.json, its uncertainty that of the points
 *   tolerance_percent          limits to both sides of the curve or the points
 *   from_hz, to_hz             default the first and the last point
 *   units                      how many microphones the limits come from
 * }</pre>
 *
 * <p>{@link ohmprint.exchange.VerdictJson}: the verdict on a curve, {@code format} {@code ohmprint-check}, version 1.
 *
 * <p>All text is UTF-8 (Touchstone: ASCII), independent of the locale: a decimal point, Western digits, no grouping. The
 * same measurement gives the same bytes. Reading is strict: an unknown column or key, a missing one, or a value of the
 * wrong kind is an {@link ohmprint.exchange.ExchangeException} that names the file, the place and the next step.
 *
 * <p>This package turns text into values and values into text; it opens no files and knows nothing of pictures.
 *
 * <p>In use:
 *
 * <pre>{@code
 * Measurement kept = CurveJson.read(CurveJson.text(file), file.toString());
 * String table = CurveFormat.CSV.write(kept);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.exchange;
