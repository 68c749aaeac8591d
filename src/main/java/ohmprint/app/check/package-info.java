/**
 * Use case: does a curve meet a specification? {@link ohmprint.app.check.CheckCurve} reads both, decides, and writes
 * verdict and picture where a folder is named for them.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.check;
