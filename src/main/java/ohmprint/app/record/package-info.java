/**
 * Recording a session: which take comes next, the sound, the checks, the files.
 *
 * <p>{@link ohmprint.app.record.Recording} is a machine with these steps, driven by a command line or a page:
 *
 * <pre>
 *   CAUTIONS ─ cautionsRead ─▶ LEVEL ─ levelAccepted ─▶ FIT ─ recordTake ─▶ JUDGE ─ keep ─▶ FIT … ─▶ DONE
 *                              checkLevel stays in LEVEL                    JUDGE ─ repeat ─▶ FIT
 * </pre>
 *
 * <p>With takes already in the session the gain must not be touched any more, so LEVEL is passed over. {@code cancel} ends a
 * sound from another thread. A {@link ohmprint.app.record.Recording.Listener} hears levels, progress and notes.
 *
 * <p>Files of a session folder while it is recorded:
 *
 * <ul>
 *   <li>{@code session.yaml}, the manifest, in place before the first take and replaced as a whole after each kept one;
 *   <li>{@code recording.json}, what the manifest does not hold: loads to come, devices, rate, channels;
 *   <li>{@code stimulus.wav}, what is played;
 *   <li>{@code take-N.unfinished.wav} while it is recorded or not yet judged. Its header does not know its length, so it can
 *       be read at any moment, also after a crash. Kept, it becomes {@code take-N.wav}; repeated, {@code
 *       take-N.repeated-M.wav}; broken off by whatever, {@code take-N.unusable-M.wav}, also when that is seen only by the
 *       next run. Nothing recorded is deleted.
 * </ul>
 *
 * <p>{@code RecordedTake.findings} is where further checks of a take join.
 *
 * <p>In use:
 *
 * <pre>{@code
 * Recording recording = Recording.open(RecordRequest.of(folder), Recording.Listener.SILENT);
 * recording.cautionsRead();
 * recording.checkLevel();
 * recording.levelAccepted();
 * TakeReport first = recording.recordTake();
 * recording.keep();
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.record;
