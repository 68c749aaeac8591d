/**
 * Sound as numbers: streams of samples, stimuli, spectra, delays, and what betrays a bad take.
 *
 * <p>Samples are doubles relative to full scale (±1). Spectra follow the convention
 * {@code X(f) = Σ x[n]·e^(−j2πfn/f_s)}; power spectral densities are one-sided, in full-scale² per hertz. A positive delay
 * means that the second signal comes later.
 *
 * <p>The FFT is JTransforms' and runs on one thread. TarsosDSP's dispatcher carries the pass over a take ({@link
 * ohmprint.dsp.TakeAnalyzer}) and each window of the meter while recording ({@link ohmprint.dsp.LiveLevel}); level,
 * clipping and dropouts are its processors. It hands on 32-bit floats. Integers of up to 24 bits and 32-bit floats are exact
 * in them; samples of 32-bit integers and 64-bit floats lose what lies 150 dB below their own level, which none of these
 * three can see. Three things are not the dispatcher's:
 *
 * <ul>
 *   <li>The background, which compares noise near −120 dBFS with the same noise under a sweep near full scale, takes the
 *       samples as they were read. In floats the drop of a take of 32 bits moved by 0.001 dB with noise at −100 dBFS and by
 *       0.02 dB at −120 dBFS.
 *   <li>A second channel: the dispatcher converts as many numbers as a block has frames, so of two channels side by side half
 *       would be lost. The reference channel takes its samples from the same block beside it.
 *   <li>Spectra, delays and fits: they need doubles, whole takes and both channels at once.
 * </ul>
 *
 * <p>This package knows nothing of circuits, loads, sessions or file formats.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.util.Arrays;
 *
 * ExponentialSweep sweep = ExponentialSweep.ofBand(20, 20_000, 6, 0.5, 48_000);
 * RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(sweep.frames()));
 * double[] spectrum = Arrays.copyOf(sweep.samples(), fft.length());
 * fft.forward(spectrum);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.dsp;
