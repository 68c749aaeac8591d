/**
 * Use case: does a curve meet a specification? {@link ohmprint.app.check.CheckCurve} reads both, decides, and writes
 * verdict and picture where a folder is named for them.
 *
 * <p>In use:
 *
 * <pre>{@code
 * CheckOutcome outcome = CheckCurve.run(new CheckRequest("session", file, null));
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.check;
