/**
 * Sound as numbers: streams of samples, stimuli, spectra, delays, and what betrays a bad take.
 *
 * <p>Samples are doubles relative to full scale (±1). Spectra follow the convention
 * {@code X(f) = Σ x[n]·e^(−j2πfn/f_s)}; power spectral densities are one-sided, in full-scale² per hertz. A positive delay
 * means that the second signal comes later.
 *
 * <p>The FFT is JTransforms' and runs on one thread; level and artefact scanning runs through TarsosDSP's block
 * pipeline, one channel at a time. This package knows nothing of circuits, loads, sessions or file formats.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.signal;
