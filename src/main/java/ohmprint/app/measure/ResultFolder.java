package ohmprint.app.measure;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Map;
import java.util.Set;
import ohmprint.app.BadInputException;
import ohmprint.files.AtomicFolder;

/**
 * A folder of results, all of which are written or none; {@link AtomicFolder} says how, and what a reader can meet. Earlier
 * results are replaced; a folder that holds anything else is not touched.
 */
public final class ResultFolder {
    private final Path target;
    private final AtomicFolder folder;

    private ResultFolder(Path target, AtomicFolder folder) {
        this.target = target;
        this.folder = folder;
    }

    /**
     * A folder of results; refuses one that holds other things than results, before any work is done.
     *
     * @param known names of files that may be replaced
     * @param of what the results are of, for the message
     * @throws BadInputException naming what stands there
     */
    public static ResultFolder at(Path target, Set<String> known, String of) throws BadInputException, IOException {
        if (Files.exists(target) && !Files.isDirectory(target)) {
            throw new BadInputException("--out " + target + " is a file; name a folder");
        }
        AtomicFolder folder;
        try {
            folder = AtomicFolder.at(target, known);
        } catch (IOException e) {
            throw unwritten(target, e);
        }
        String stranger = folder.stranger().orElse(null);
        if (stranger != null && known.contains(stranger)) {
            throw new BadInputException("--out " + target + " holds " + stranger + ", which is a "
                    + (Files.isDirectory(target.resolve(stranger), LinkOption.NOFOLLOW_LINKS) ? "folder" : "link")
                    + " and not a result of " + of + "; move it elsewhere or name another folder");
        }
        if (stranger != null) {
            throw new BadInputException("--out " + target + " holds " + stranger + ", which is no result of " + of
                    + "; name another folder, so that nothing is lost");
        }
        return new ResultFolder(target, folder);
    }

    /**
     * Writes all files.
     *
     * @param files content by file name; what tells of the others comes last
     * @throws IOException if they cannot be written; what was there is there still
     */
    public void write(Map<String, byte[]> files) throws IOException {
        try {
            folder.write(files);
        } catch (AtomicFolder.RefusedException e) {
            throw new IOException("the results cannot be written to " + target + ": " + e.getMessage(), e);
        } catch (IOException e) {
            throw unwritten(target, e);
        }
    }

    private static IOException unwritten(Path target, IOException e) {
        String reason = e instanceof AccessDeniedException ? "permission denied" : String.valueOf(e.getMessage());
        return new IOException(
                "the results cannot be written to " + target + " (" + reason
                        + "); nothing has been changed there: free some space or name another folder with --out",
                e);
    }

    /** UTF-8 bytes of a text. */
    public static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
