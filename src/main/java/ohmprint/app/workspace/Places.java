package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;

/**
 * What names from outside stand for. A name is one segment of a path without a leading dot; the place may not leave the
 * workspace, not even through a link.
 *
 * @param root the workspace, its real path
 */
record Places(Path root) {
    private static final int LONGEST = 120;
    /** How many folders below one of a session are looked at. */
    static final int DEEPEST = 8;

    /** The places of a folder that exists. */
    static Places of(Path folder) throws IOException {
        return new Places(folder.toRealPath());
    }

    /**
     * The folder of a session, which may not exist yet.
     *
     * @throws BadInputException if the name is none
     * @throws MissingException if it leads out of the workspace
     */
    Path session(String name) throws BadInputException, IOException {
        return inside(root, name, "the session");
    }

    /**
     * A file in the folder of a session, likewise.
     *
     * @throws BadInputException if the name is none
     * @throws MissingException if it leads out of the workspace
     */
    Path file(Path folder, String name) throws BadInputException, IOException {
        return inside(folder, name, "the file");
    }

    /** A file that exists, likewise. */
    Path existing(Path folder, String name) throws BadInputException, IOException {
        Path file = file(folder, name);
        if (!Files.isRegularFile(file)) {
            throw new MissingException("there is no file " + name + " in " + folder.getFileName()
                    + "; reload the page to see what is there");
        }
        return file;
    }

    private Path inside(Path folder, String name, String what) throws BadInputException, IOException {
        check(name, what);
        Path place;
        try {
            place = folder.resolve(name);
        } catch (InvalidPathException e) {
            throw new BadInputException(
                    what + " " + name + " cannot be a name here; use letters, digits and hyphens", e);
        }
        boolean there = Files.exists(place, LinkOption.NOFOLLOW_LINKS);
        if (there && (!Files.exists(place) || !place.toRealPath().startsWith(root))) {
            throw new MissingException(
                    what + " " + name + " is a link that leads out of the workspace; copy what it points at here");
        }
        return place;
    }

    /**
     * Refuses a folder in which a link leads out of the workspace, before anything in it is read.
     *
     * @throws BadInputException naming the link
     */
    void refuseLinks(Path folder) throws BadInputException, IOException {
        List<Path> links;
        try (Stream<Path> all = Files.walk(folder, DEEPEST)) {
            links = all.filter(Files::isSymbolicLink).toList();
        }
        for (Path link : links) {
            if (!Files.exists(link) || !link.toRealPath().startsWith(root)) {
                throw new BadInputException(folder.relativize(link) + " in " + folder.getFileName()
                        + " is a link that leads out of the workspace, so the page does not read it; replace it by what"
                        + " it points at");
            }
        }
    }

    /** Whether a file may be read: it is there, and in the workspace. */
    boolean holds(Path file) {
        try {
            return Files.isRegularFile(file) && file.toRealPath().startsWith(root);
        } catch (IOException e) {
            return false;
        }
    }

    /** Refuses what is not one segment of a path. */
    static void check(String name, String what) throws BadInputException {
        boolean plain = name.codePoints().noneMatch(c -> c == '/' || c == '\\' || Character.isISOControl(c));
        if (name.isBlank() || name.startsWith(".") || !plain) {
            throw new BadInputException("a name for " + what
                    + " is text without slashes that does not begin with a dot, unlike '" + shown(name)
                    + "'; use letters, digits and hyphens");
        }
        if (name.length() > LONGEST) {
            throw new BadInputException(
                    "the name for " + what + " has " + name.length() + " characters; give at most " + LONGEST);
        }
    }

    private static String shown(String name) {
        String plain = name.replaceAll("\\p{Cntrl}", "?");
        return plain.length() > LONGEST ? plain.substring(0, LONGEST) + "…" : plain;
    }
}
