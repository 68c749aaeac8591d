/**
 * The command {@code plan}: which loads to record for a microphone of which little is known.
 *
 * <p>In use:
 *
 * <pre>{@code
 * LoadPlan plan = PlanLoads.run(PlanRequest.of(PlanRequest.Expected.ofTransducer("ribbon"), 3000));
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.plan;
