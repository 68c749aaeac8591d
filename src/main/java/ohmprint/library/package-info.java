/**
 * The collection of measurements that a workshop keeps and shares, in one SQLite file or in a PostgreSQL database.
 *
 * <p><strong>What is kept.</strong> A measurement is the text of its {@code curve.json}, byte for byte (compressed with
 * gzip), and columns that repeat what is searched for. Its identifier is the first twelve hexadecimal digits of the
 * SHA-256 of that text, so that the same result has the same identifier in every library and adding it again changes
 * nothing. It belongs to a microphone: maker, model and serial number make one, or label, maker and model where there is
 * no serial number. Beside them: the SHA-256 of each take, specifications by name with all their revisions, links from a
 * measurement to the one that supersedes it and from before to after a repair, and a record of every removal.
 *
 * <p><strong>Rules.</strong> The database itself holds them, by triggers on both kinds and by roles on PostgreSQL: a
 * measurement is never changed, only superseded; it is removed only where the record of its removal is written in the
 * same transaction; records of removals stay. Every change is one transaction, whole or absent.
 *
 * <p><strong>Likeness.</strong> {@link ohmprint.library.CurveSignature} holds ln|Z| and its standard uncertainty on the 31
 * third octaves from 20 Hz to 20 kHz; comparing two is arithmetic on 31 numbers, so that a hundred thousand are searched
 * while a user waits.
 *
 * <p><strong>Versions.</strong> The schema is made and brought up to date by numbered scripts. A library that an older
 * program wrote is brought up to date when it is opened; one that a newer program wrote is refused.
 *
 * <p>This package is the only one that knows SQL. It does not read the text of a measurement; whoever adds one hands over
 * the text and what it says. Passwords come from the environment or the driver's own password file and appear in no
 * message.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.util.Map;
 *
 * try (CurveLibrary library = CurveLibrary.open(LibraryLocation.of(file.toString(), Map.of()))) {
 *     for (Entry entry : library.page(Filter.CURRENT, 1).entries()) {
 *         String curveJson = library.document(entry);
 *     }
 * }
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.library;
