/**
 * A take as it would sound into another load.
 *
 * <p>A take through the admittance y_a holds {@code V_oc/(1 + Z·y_a)}, the same performance through y_b would hold
 * {@code V_oc/(1 + Z·y_b)}. The filter between the two is
 *
 * <pre>{@code H(f) = (1 + Z·y_a)/(1 + Z·y_b),   y = 1/load + Y_in}</pre>
 *
 * <p>in magnitude and phase, Z being a measured curve with R and X as splines over ln f. Z belongs to a passive circuit,
 * so H is the response of a system without foresight. Outside the measured band nothing is claimed: {@code ln H} runs
 * smoothly to 0 over three octaves below the band and over one octave, at most up to half the sample rate, above it.
 *
 * <p>The filter is realised as a finite impulse response ({@link ohmprint.dsp.FittedFilter}) that follows the curve
 * in magnitude and phase and begins at most one millisecond ahead of a sound. Samples cannot do without that: a response
 * that lies between two samples has parts on both sides, and what the return to unity adds there lies above the measured
 * band. Below the band a millisecond is nothing, and a filter without foresight cannot change its level there without
 * turning the phase inside the band; the band wins, so that part of the level at the lower end remains down to 0 Hz. How
 * much is told.
 *
 * <p>{@link ohmprint.app.audition.AuditionTake} is the use case. It reads the take twice, block by block, so that memory
 * does not grow with its length: first for level and peak, then to write. Files appear complete or not at all, and no file
 * that exists is replaced.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import ohmprint.app.Progress;
 *
 * AuditionRequest.Side recorded = AuditionRequest.Side.of(10_000, 1500.0, 0);
 * AuditionRequest.Side wanted = AuditionRequest.Side.of(1200, 1500.0, 0);
 * AuditionTake.run(
 *         new AuditionRequest(file, "session", recorded, wanted, 1, true, folder.resolve("as-heard.wav"), null),
 *         Progress.SILENT);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.audition;
