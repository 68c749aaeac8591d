package ohmprint.app.report;

import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Base64;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;
import javax.imageio.IIOException;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import javax.imageio.stream.ImageInputStream;
import ohmprint.app.BadInputException;
import ohmprint.chart.Sheet.Logo;
import ohmprint.chart.Sheet.Workshop;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/**
 * Who hands a sheet over: a YAML file with {@code version: 1}, {@code name}, and if wanted {@code address} (lines are kept)
 * and {@code logo}, a PNG or JPEG file beside it.
 */
final class WorkshopFile {
    private static final List<String> KEYS = List.of("version", "name", "address", "logo");
    private static final long LARGEST_LOGO = 1 << 20;

    /** Most pixels of a logo: 16 MB in memory. */
    private static final long MOST_PIXELS = 4_000_000;

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

    /** The file that it names as its logo, or null. */
    static @Nullable Path logoNamed(Path file) throws BadInputException {
        String shown = file.toString();
        try {
            String logo = Section.root(ManifestText.read(file, shown), KEYS, new Problems(shown))
                    .text("logo");
            return logo == null ? null : beside(file, logo);
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static Path beside(Path file, String named) throws BadInputException {
        try {
            return file.resolveSibling(named);
        } catch (InvalidPathException e) {
            throw new BadInputException("the logo " + named + " cannot be a path here; name a file beside " + file);
        }
    }

    private static @Nullable Logo logo(Path file, String named) throws BadInputException, IOException {
        Path logo = beside(file, named);
        if (!Files.isRegularFile(logo) || Files.size(logo) > LARGEST_LOGO) {
            throw new BadInputException(
                    "the logo " + logo + " is not there or larger than 1 MB; give a PNG or JPEG file of up to 1 MB");
        }
        BufferedImage image = image(logo);
        // Drawn anew, because palettes of few colours do not come through on paper.
        BufferedImage plain = new BufferedImage(image.getWidth(), image.getHeight(), BufferedImage.TYPE_INT_ARGB);
        Graphics2D g = plain.createGraphics();
        g.drawImage(image, 0, 0, null);
        g.dispose();
        ByteArrayOutputStream png = new ByteArrayOutputStream();
        ImageIO.write(plain, "png", png);
        return new Logo("image/png", Base64.getEncoder().encodeToString(png.toByteArray()));
    }

    /** The picture in a file. Its header is looked at first: a few bytes can unpack to gigabytes. */
    private static BufferedImage image(Path logo) throws BadInputException, IOException {
        try (ImageInputStream in = ImageIO.createImageInputStream(logo.toFile())) {
            Iterator<ImageReader> readers = in == null ? Collections.emptyIterator() : ImageIO.getImageReaders(in);
            if (!readers.hasNext()) {
                throw new BadInputException("the logo " + logo + " is neither PNG nor JPEG, or damaged; convert it");
            }
            ImageReader reader = readers.next();
            try {
                reader.setInput(in, true, true);
                int width = reader.getWidth(0);
                int height = reader.getHeight(0);
                if ((long) width * height > MOST_PIXELS) {
                    throw new BadInputException("the logo " + logo + " has " + width + " × " + height
                            + " pixels, more than " + MOST_PIXELS + " in all; make it smaller, such as 1000 × 500");
                }
                return reader.read(0);
            } catch (IIOException | IndexOutOfBoundsException | IllegalArgumentException e) {
                throw new BadInputException("the logo " + logo + " is neither PNG nor JPEG, or damaged; convert it", e);
            } finally {
                reader.dispose();
            }
        }
    }
}
