/**
 * The command {@code measure}: from the takes of a session to its curve, and to the files that hold it.
 *
 * <p>This is the engine. It chooses the route that the evidence allows, aligns the takes, lets the solvers of
 * {@code estimate} work, asks whether the takes contradict each other, and turns what it saw into findings. Files are
 * written into a temporary folder beside the target, which is renamed at the end: a result is complete or not there.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import ohmprint.app.Progress;
 *
 * MeasureOutcome outcome = MeasureSession.run(MeasureRequest.of(folder), Progress.SILENT);
 * ImpedanceCurve measured = outcome.measurement().curve();
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.measure;
