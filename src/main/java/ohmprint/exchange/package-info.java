/**
 * Curves and measurements as text that other programs read, and back.
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
 * {@code noise} of the band for a = b.
 *
 * <p>{@link ohmprint.exchange.Touchstone}: the open network-parameter format, one port, impedance. Files are written as
 * version 1 with a reference of 1 Ω, {@code # Hz Z RI R 1}: version 1 normalises impedances to the reference and version
 * 2 does not, so that with 1 Ω both readings agree.
 *
 * <p>All text is UTF-8 (Touchstone: ASCII), independent of the locale: a decimal point, Western digits, no grouping. The
 * same measurement gives the same bytes. Reading is strict: an unknown column or key, a missing one, or a value of the
 * wrong kind is an {@link ohmprint.exchange.ExchangeException} that names the file, the place and the next step.
 *
 * <p>This package turns text into values and values into text; it opens no files and knows nothing of pictures.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.exchange;
