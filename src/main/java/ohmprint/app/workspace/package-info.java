/**
 * A folder of sessions as somebody works in it with a page open: what is there, what is changed, what follows from it.
 *
 * <p>{@link ohmprint.app.workspace.Workspace} is the way in: it holds the workspace, one {@link ohmprint.app.workspace.OpenSession}
 * for each session that was asked for, the curves by their names and the library. Several windows may look at one session;
 * it tells each of them what changes, in the same order. The open session knows what belongs to it: the {@link
 * ohmprint.app.workspace.ManifestEditor} and the {@link ohmprint.app.workspace.Recorder} tell it what they did and know
 * neither it nor each other.
 *
 * <p>A session is a folder directly in the workspace with a {@code session.yaml}. Names that come from outside are one
 * segment of a path; what they stand for must lie in the workspace, whatever links are in it ({@link
 * ohmprint.app.workspace.PathGuard}). Manifests are replaced as a whole, so comments written into them by hand go with the
 * first change; uploaded files appear complete or not at all, and none is ever overwritten.
 *
 * <p>What a page sends are records that check themselves, each within the class that answers it, or a {@link
 * ohmprint.app.workspace.Query}. What it shows are records of the packages below as they are, and records with plain values
 * where the page shows something else. In {@link ohmprint.app.workspace.ResistanceValue} an infinite value stands for no resistor and
 * NaN for one that is not known; elsewhere NaN is nothing.
 *
 * <p>It knows nothing of HTTP. {@link ohmprint.app.workspace.PageServer} is what a server of pages offers.
 *
 * <p>In use:
 *
 * <pre>{@code
 * try (Workspace bench = Workspace.open(folder, null)) {
 *     SessionView session = bench.openSession("ribbon-7").view();
 * }
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.workspace;
