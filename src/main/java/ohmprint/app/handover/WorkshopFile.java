package ohmprint.app.handover;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.manifest.ManifestException;
import ohmprint.manifest.ManifestText;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import ohmprint.report.Sheet.Logo;
import ohmprint.report.Sheet.Workshop;
import org.jspecify.annotations.Nullable;

/**
 * Who hands a sheet over: a YAML file with {@code version: 1}, {@code name}, and if wanted {@code address} (lines are kept)
 * and {@code logo}, a PNG or JPEG file beside it.
 */
final class WorkshopFile {
    private static final List<String> KEYS = List.of("version", "name", "address", "logo");
    private static final long LARGEST_LOGO = 1 << 20;
    private static final byte[] PNG = {(byte) 0x89, 'P', 'N', 'G'};
    private static final byte[] JPEG = {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF};

    private WorkshopFile() {}

    /**
     * Reads it.
     *
     * @throws BadInputException with everything that is wrong with it
     * @throws IOException if the logo cannot be read
     */
    static Workshop read(Path file) throws BadInputException, IOException {
        String shown = file.toString();
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(file + " is not there; give the YAML file of a workshop with --workshop");
        }
        try {
            Problems problems = new Problems(shown);
            Section root = Section.root(ManifestText.read(file, shown), KEYS, problems);
            root.checkVersion("1");
            root.require("name", "add the name of the workshop");
            String name = root.text("name");
            String address = root.text("address");
            String logo = root.text("logo");
            problems.throwIfAny();
            return new Workshop(
                    name == null ? "" : name,
                    address == null ? List.of() : address.strip().lines().toList(),
                    logo == null ? null : logo(file, logo));
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static @Nullable Logo logo(Path file, String named) throws BadInputException, IOException {
        Path logo;
        try {
            logo = file.resolveSibling(named);
        } catch (InvalidPathException e) {
            throw new BadInputException("the logo " + named + " cannot be a path here; name a file beside " + file);
        }
        if (!Files.isRegularFile(logo) || Files.size(logo) > LARGEST_LOGO) {
            throw new BadInputException(
                    "the logo " + logo + " is not there or larger than 1 MB; give a PNG or JPEG file of up to 1 MB");
        }
        byte[] bytes = Files.readAllBytes(logo);
        String type = begins(bytes, PNG) ? "image/png" : begins(bytes, JPEG) ? "image/jpeg" : null;
        if (type == null) {
            throw new BadInputException("the logo " + logo + " is neither PNG nor JPEG; convert it");
        }
        return new Logo(type, Base64.getEncoder().encodeToString(bytes));
    }

    private static boolean begins(byte[] bytes, byte[] with) {
        return bytes.length > with.length && Arrays.equals(Arrays.copyOf(bytes, with.length), with);
    }
}
