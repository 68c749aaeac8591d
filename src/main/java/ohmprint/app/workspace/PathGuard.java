package ohmprint.app.workspace;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.text.Normalizer;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import org.jspecify.annotations.Nullable;

/**
 * What names from outside stand for, and the one guard of the page's files. A name is one segment of a path without a
 * leading dot; no file that is read or written may lie out of the workspace, not even through links, which are followed to
 * their end at any depth.
 *
 * @param root the workspace, its real path
 */
record PathGuard(Path root) {
    private static final int LONGEST = 120;
    private static final int LONGEST_OF_LABEL = 60;

    /** The places of a folder that exists. */
    static PathGuard of(Path folder) throws IOException {
        return new PathGuard(folder.toRealPath());
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
        if (there && !isInside(place)) {
            throw new MissingException(
                    what + " " + name + " is a link that leads out of the workspace; copy what it points at here");
        }
        return place;
    }

    /**
     * Refuses a folder from which links lead out of the workspace, at whatever depth and by whatever detour, before anything
     * in it is read or written.
     *
     * @throws BadInputException naming the link
     */
    void refuseLinks(Path folder) throws BadInputException, IOException {
        Deque<Path> open = new ArrayDeque<>(List.of(folder));
        Set<Path> seen = new HashSet<>(List.of(folder.toRealPath()));
        while (!open.isEmpty()) {
            Path here = open.pop();
            for (Path link : links(here)) {
                if (!isInside(link)) {
                    throw new BadInputException(here.relativize(link) + " in "
                            + (here.equals(folder) ? folder.getFileName() : root.relativize(here))
                            + " is a link that leads out of the workspace, so the page does not read it; replace it by"
                            + " what it points at");
                }
                // Links are not followed by the walk, so what lies behind one is walked in its turn.
                if (Files.isDirectory(link) && seen.add(link.toRealPath())) {
                    open.push(link.toRealPath());
                }
            }
        }
    }

    private static List<Path> links(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return all.filter(Files::isSymbolicLink).toList();
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }

    /** Whether what a path stands for, once its links are followed, is there and in the workspace. */
    boolean isInside(Path path) {
        try {
            return path.toRealPath().startsWith(root);
        } catch (IOException e) {
            return false;
        }
    }

    /** Whether a file may be read: it is there, and in the workspace. */
    boolean holds(Path file) {
        return Files.isRegularFile(file) && isInside(file);
    }

    /**
     * A file directly in the workspace with the files that it names.
     *
     * @param name its name
     * @param named tells the files that it names
     * @return the file, or null when there is none of that name
     * @throws BadInputException if it or one of them is out of the workspace
     */
    @Nullable
    Path rootFile(String name, Naming named) throws BadInputException {
        Path file = root.resolve(name);
        if (!Files.isRegularFile(file)) {
            return null;
        }
        if (!isInside(file)) {
            throw new BadInputException(
                    name + " is a link that leads out of the workspace, so the page does not read it;"
                            + " replace it by what it points at");
        }
        for (Path each : named.in(file)) {
            if (Files.exists(each, LinkOption.NOFOLLOW_LINKS) && !isInside(each)) {
                throw new BadInputException(
                        name + " names " + each + ", which is not in the workspace, so the page does"
                                + " not read it; copy it into the workspace and name the copy");
            }
        }
        return file;
    }

    /** Tells what files a file names. */
    @FunctionalInterface
    interface Naming {
        List<Path> in(Path file) throws BadInputException;
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

    /** A label as the name of a folder: lower-case letters and digits with hyphens between. */
    static String folderName(String label) {
        String plain = Normalizer.normalize(label, Normalizer.Form.NFD)
                .toLowerCase(Locale.ROOT)
                .replaceAll("\\p{M}", "")
                .replaceAll("[^a-z0-9]+", "-")
                .replaceAll("^-|-$", "");
        String part = plain.substring(0, Math.min(LONGEST_OF_LABEL, plain.length()));
        return part.isEmpty() ? "session" : part;
    }
}
