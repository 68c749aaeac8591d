package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeFiles;
import ohmprint.manifest.ManifestException;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import org.jspecify.annotations.Nullable;

/**
 * The manifest of a session in whatever state it is.
 *
 * @param session what it says, or null when it cannot be understood
 * @param problem what is wrong with it or with the files that it names, one line each, or null
 */
record Manifest(@Nullable Session session, @Nullable String problem) {
    /** Reads it; takes may be missing still. Where a link leads out of the workspace, nothing is read. */
    static Manifest read(Path folder, Places places) {
        String problem;
        try {
            places.refuseLinks(folder);
        } catch (BadInputException | IOException e) {
            return new Manifest(null, String.valueOf(e.getMessage()));
        }
        try {
            return new Manifest(new SessionReader(TakeFiles.probe()).readUnfinished(folder), null);
        } catch (ManifestException e) {
            problem = String.valueOf(e.getMessage());
        }
        try {
            return new Manifest(SessionReader.readManifest(folder), problem);
        } catch (ManifestException e) {
            return new Manifest(null, problem);
        }
    }
}
