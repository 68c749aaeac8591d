/**
 * A specification of output impedance, and the decision whether a measured curve meets it.
 *
 * <p><b>Limits.</b> {@link ohmprint.conformity.Specification} holds up to four kinds of requirement: |Z| at one frequency with a
 * tolerance, a mask of frequency ranges with least and greatest |Z|, a window for the frequency of the greatest |Z|, and a
 * reference curve with limits to both sides. A requirement on |Z| becomes a list of {@link ohmprint.conformity.BandCheck}s: the
 * value that the curve has at a frequency against the limits there.
 *
 * <p><b>Decision.</b> Three answers: within, outside, undecided. Let y be the value, U its 95 % expanded uncertainty and
 * T the limit. A check is <em>within</em> when y lies inside the limits by U or more (guarded acceptance, guard band w =
 * U; JCGM 106:2012, 8.3.2), and <em>outside</em> when y lies beyond a limit by more than G (guarded rejection, 8.3.3).
 * A specification is met when every check is within, and violated when any check is outside; in all other cases it is
 * undecided, and so it is when something was not measured.
 *
 * <p><b>Many bands.</b> To be called within, a curve must pass every check, so a curve that violates one limit passes
 * with at most the probability of that one check, 2.5 %: no allowance is needed (an intersection-union test; Berger 1982,
 * Technometrics 24, 295). To be called outside, one check of many is enough, so a curve that lies exactly on its limits
 * everywhere would fail by chance somewhere; G is therefore widened so that over all checks of one side the probability
 * stays at 2.5 %: {@code G = t·u}, t being the same quantile of Student's t for all checks of a requirement. How far it must
 * be widened depends on what the errors have in common. Level, loads and input err in all bands at once, and errors that
 * are the same everywhere need no widening at all; the curve's covariance tells how much is shared
 * ({@link ohmprint.conformity.CommonErrors}), and t follows from the distribution of the greatest of the correlated errors
 * ({@link ohmprint.conformity.SimultaneousQuantile}, {@link ohmprint.conformity.FamilywiseRates}). Where the covariance is not known the rate is shared
 * evenly between requirements and their N checks (Bonferroni), which holds whatever the correlation and is never exceeded.
 *
 * <p><b>Conformance probability</b> of a check is {@code Φ((T_U − y)/u) − Φ((T_L − y)/u)} (JCGM 106:2012, 7.2 to 7.4), with
 * u = U/1.96 and no knowledge before the measurement.
 *
 * <p><b>What cannot be decided.</b> A band without a value inside a requirement; a curve that is that of the source in
 * parallel with an unknown input; a measurement that is unusable. Bounds (two loads on the power route) count as within
 * when both lie inside the limits.
 *
 * <p>{@link ohmprint.conformity.FaultPatterns} names what is usually behind a significant deviation of a given shape. Those
 * statements are common practice, not measured here.
 *
 * <p>This package knows nothing of files and pictures.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.util.List;
 * import ohmprint.conformity.Specification.RatedImpedance;
 *
 * RatedImpedance rated = new RatedImpedance(200, 20, RatedImpedance.USUAL_HZ);
 * Specification specification = new Specification("after repair", null, null, rated, List.of(), null, null);
 * Verdict verdict = Decision.of(specification, measurement);
 * boolean inside = verdict.conformity() == Conformity.WITHIN;
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.conformity;
