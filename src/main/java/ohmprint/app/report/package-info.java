/**
 * Use case: the sheet that goes back with a microphone. {@link ohmprint.app.report.HandOver} reads or measures, asks the
 * other use cases what there is to say, and writes one HTML or PDF file.
 *
 * <p>Each section is composed from outcomes that are at hand. Numbers are rounded by their
 * uncertainty (JCGM 100:2008, 7.2.6). Nothing is claimed that the measurement does not carry: a measurement marked unusable
 * says so above all else, and a curve in parallel with an unknown input gets no advice on loads.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.time.Instant;
 * import ohmprint.app.Progress;
 *
 * HandOverRequest request = new HandOverRequest(
 *         "session", null, null, null, null, file, HandOverRequest.Form.PDF, HandOverRequest.paper("a4"), Instant.now());
 * HandOver.run(request, Progress.SILENT);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.report;
