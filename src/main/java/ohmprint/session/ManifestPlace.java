package ohmprint.session;

import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.manifest.ManifestException;
import ohmprint.manifest.ManifestText;
import ohmprint.manifest.Problems;

/**
 * A manifest that was named by a user.
 *
 * @param folder folder that its files are in
 * @param name its name, for messages
 * @param text its text
 */
record ManifestPlace(Path folder, String name, String text) {
    /**
     * Finds and reads it.
     *
     * @param folderOrManifest the folder that holds {@code session.yaml}, or a manifest of any name
     * @throws ManifestException if there is none, or it is not text
     */
    static ManifestPlace of(Path folderOrManifest) throws ManifestException {
        boolean isFolder = Files.isDirectory(folderOrManifest);
        Path manifest = isFolder ? folderOrManifest.resolve(Session.MANIFEST) : folderOrManifest;
        Path parent = manifest.getParent();
        Path folder = isFolder ? folderOrManifest : parent == null ? Path.of("") : parent;
        if (!Files.isRegularFile(manifest)) {
            Problems problems = new Problems(manifest.toString());
            problems.add(
                    0,
                    isFolder ? noManifest(folderOrManifest) : "does not exist; give a session folder or its manifest");
            throw problems.exception();
        }
        String name = String.valueOf(manifest.getFileName());
        return new ManifestPlace(folder, name, ManifestText.read(manifest, name));
    }

    private static String noManifest(Path folder) {
        return Files.exists(folder.resolve("session.yml"))
                ? "does not exist, but session.yml does; rename it to " + Session.MANIFEST
                : "does not exist; give a folder that holds a " + Session.MANIFEST;
    }
}
