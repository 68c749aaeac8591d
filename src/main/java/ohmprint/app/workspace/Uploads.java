package ohmprint.app.workspace;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Locale;
import java.util.UUID;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeFiles;
import ohmprint.session.Session;

/**
 * Files that come into a session's folder. They are written beside their place under a hidden name, looked at, and get
 * their name only then; what is there already is never overwritten.
 */
final class Uploads {
    /** What hidden names of files that are on their way begin with. */
    private static final String PART = ".upload-";

    private Uploads() {}

    /**
     * Takes in a file.
     *
     * @param in its bytes, read to the end
     * @throws BadInputException if it is nothing that a session holds
     * @throws ConflictException if there is one of that name
     */
    static void take(Desk desk, Places places, String name, InputStream in) throws BadInputException, IOException {
        Path target = places.file(desk.folder(), name);
        boolean manifest = name.equals(Session.MANIFEST);
        boolean curve = name.toLowerCase(Locale.ROOT).endsWith(".csv");
        if (!manifest && !curve && !AudioFileView.isAudio(name)) {
            throw new BadInputException(
                    name + " is no file of a session; give recordings as WAV, AIFF or FLAC, a measured input curve as"
                            + " CSV, or session.yaml");
        }
        refuseExisting(target, name);
        Path part = desk.folder().resolve(PART + UUID.randomUUID());
        try {
            Files.copy(in, part);
            if (!manifest && !curve) {
                readable(part, name);
            }
            desk.alone(() -> {
                refuseExisting(target, name);
                return Files.move(part, target);
            });
        } finally {
            Files.deleteIfExists(part);
        }
    }

    private static void refuseExisting(Path target, String name) throws ConflictException {
        if (Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
            throw new ConflictException(
                    name + " is in the session already and is not overwritten; give the new file another name");
        }
    }

    private static void readable(Path part, String name) throws BadInputException {
        try {
            if (TakeFiles.probe().shape(part).frames() <= 0) {
                throw new BadInputException(name + " holds no sound; record it again");
            }
        } catch (IOException e) {
            String why = String.valueOf(e.getMessage()).replace(part.toString(), name);
            throw new BadInputException(name + " cannot be read as audio (" + why + "); export it again as WAV", e);
        }
    }

    /** Removes what was on its way when the program ended. */
    static void tidy(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.filter(f -> String.valueOf(f.getFileName()).startsWith(PART))
                    .toList()) {
                Files.deleteIfExists(file);
            }
        }
    }
}
