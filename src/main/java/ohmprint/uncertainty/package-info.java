/**
 * What lies between a standard uncertainty and an interval: {@link ohmprint.uncertainty.CoverageFactor},
 * {@link ohmprint.uncertainty.ToleranceFactor}.
 *
 * <p>A 95 % interval is {@code y ± k·u}. The factor k is 1.96 where y is distributed normally about the truth with a known u, and
 * Student's t where u itself rests on few observations: two of three loads tell little of how far their levels scatter.
 * Where tolerances dominate, it is less than 1.96: what lies within ± a for certain has no tails.
 *
 * <pre>{@code
 * double half = CoverageFactor.student(4) * u;          // 2.776 u
 * double freedom = CoverageFactor.freedom(half / u);    // 4 again
 * }</pre>
 *
 * <p>Source: JCGM 100:2008 (GUM), annex G; JCGM 101:2008. The package knows nothing of impedance.
 *
 * <p>In use:
 *
 * <pre>{@code
 * double standardUncertainty = 0.5; // ohms, with 12 degrees of freedom
 * double u95 = CoverageFactor.student(12) * standardUncertainty;
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.uncertainty;
