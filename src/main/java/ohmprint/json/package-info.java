/**
 * What programs get as JSON, each object once: the command line prints these objects with {@code --json}, and the page is
 * answered with the same ones. A quantity so has one key, with its unit at the end: {@code worst_loss_db},
 * {@code ohm_at_1khz}.
 *
 * <p>Keys stand in the order in which they are put and never change once they are released. NaN and infinite numbers become
 * null, no resistor the word {@code open}. Objects are put together without reflection, so that a command that prints one
 * loads no more than the generator.
 *
 * <p>Files that the program reads again are not written here but in {@code exchange}; what only the page tells, such as a
 * curve as columns, is a record of {@code app.workspace}.
 *
 * <p>In use:
 *
 * <pre>{@code
 * JsonObject found = new JsonObject().put("folder", folder).put("ohm_at_1khz", 204.5);
 * found.print(new java.io.PrintWriter(System.out, true));
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.json;
