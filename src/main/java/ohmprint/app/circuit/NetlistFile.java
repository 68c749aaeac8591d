package ohmprint.app.circuit;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.files.AtomicFile;

/** A netlist that appears whole or not at all, and takes the place of nothing but an earlier one. */
final class NetlistFile {
    /** What the second line of each begins with, without the asterisk. */
    static final String MARK = "written by ohmprint ";

    private static final int BEGINNING = 4096;

    private NetlistFile() {}

    /**
     * Refuses a name that cannot be used, before any work is done.
     *
     * @throws BadInputException naming what stands there
     */
    static void check(Path file) throws BadInputException, IOException {
        Path folder = file.toAbsolutePath().normalize().getParent();
        if (folder == null || !Files.isDirectory(folder)) {
            throw new BadInputException(file + " has no folder to lie in; make the folder first");
        }
        if (Files.isDirectory(file)) {
            throw new BadInputException(file + " is a folder; name a file");
        }
        if (Files.exists(file) && !isOurs(file)) {
            throw new BadInputException(
                    file + " exists and was not written by this program; name another file, so that nothing is lost");
        }
    }

    private static boolean isOurs(Path file) throws IOException {
        try (var in = Files.newInputStream(file)) {
            String beginning = new String(in.readNBytes(BEGINNING), StandardCharsets.UTF_8);
            return beginning.lines().skip(1).findFirst().orElse("").startsWith("* " + MARK);
        }
    }

    /** Writes it. */
    static void write(Path file, String netlist) throws IOException {
        try {
            AtomicFile.replace(file, netlist.getBytes(StandardCharsets.UTF_8));
        } catch (AccessDeniedException e) {
            throw new IOException(file + " cannot be written (permission denied); name another folder", e);
        }
    }
}
