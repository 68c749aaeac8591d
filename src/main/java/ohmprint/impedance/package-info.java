/**
 * What a measurement says: the impedance of a microphone on a grid of frequency bands, with its uncertainty, and what
 * is known about how it was obtained.
 *
 * <p>Convention: time dependence e<sup>+jωt</sup>, ω = 2πf, SI units, impedances in ohms as {@code Z = R + jX}. Phases are
 * in radians inside the program and in degrees only where a name says so. A {@link ohmprint.impedance.BandValue} holds the
 * value <em>at the exact midband frequency</em>, not an average over the band; bands follow IEC 61260-1, base ten.
 *
 * <p>Uncertainty follows JCGM 100: a covariance of (R, X), its propagation to modulus and phase, and expanded
 * uncertainties for 95 % coverage. {@link ohmprint.impedance.BandBudget} splits the standard uncertainty of |Z| by origin.
 * {@link ohmprint.impedance.CurveCovariance} holds how bands belong together: causes that they share and noise of their own.
 *
 * <p>This package knows nothing of recordings, circuits, solvers, files or screens, and depends on {@code ohmprint.uncertainty} alone.
 *
 * <p>In use:
 *
 * <pre>{@code
 * FrequencyBands thirdOctaves = FrequencyBands.within(3, 20, 20_000);
 * BandValue at1kHz = curve.at(1000);
 * double ohm = at1kHz.magnitudeOhm();
 * double u95Ohm = at1kHz.magnitudeU95Ohm();
 * BandValue first = curve.on(thirdOctaves).values().get(0);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.impedance;
