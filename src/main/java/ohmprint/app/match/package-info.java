/**
 * The curve put to use: which input suits a microphone, and at what level.
 *
 * <p>{@link ohmprint.app.match.MatchCurve} is the use case: it reads a curve and a workshop's inputs and leaves a table, a
 * folder of files, or both. {@link ohmprint.app.match.Matching} is the arithmetic behind it, without files: a curve that is
 * ready, and for each load what it does; fast enough to follow a slider.
 *
 * <p>The equations are those of {@link ohmprint.circuit}. A range is 20 Hz to 20 kHz unless another is asked for, less what
 * the curve does not hold: nothing is stated outside the measured bands, neither a loss nor noise. Decibels of loss are
 * positive when voltage is lost; uncertainties are for 95 %.
 *
 * <p>In use:
 *
 * <pre>{@code
 * MatchOutcome outcome = MatchCurve.run(MatchRequest.of("session/result/curve.json", 600, 1500, 10_000));
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.match;
