package ohmprint.report;

import java.awt.Font;
import java.awt.FontFormatException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** The bundled font in the sizes of the pictures. */
final class ChartFonts {
    /** Font families of an SVG: the bundled one first, then whatever the viewer has. */
    static final String FAMILIES = "DejaVu Sans, Noto Sans, Liberation Sans, sans-serif";

    /** A viewer's own bold face is wider than the emboldened face measured here, by about this factor. */
    static final double BOLD_ROOM = 1.13;

    private static final String FONT_CONFIGURATION = "sun.awt.fontconfig";
    private static final Font BASE = load();

    private ChartFonts() {}

    /** Upright, in units of the picture. */
    static Font plain(float size) {
        return BASE.deriveFont(size);
    }

    /** Emboldened, in units of the picture. */
    static Font bold(float size) {
        return BASE.deriveFont(Font.BOLD, size);
    }

    private static Font load() {
        try {
            // Unless told otherwise there are no system fonts: looking for them takes time, and without any the runtime
            // would refuse even a font of our own.
            if (System.getProperty(FONT_CONFIGURATION) == null) {
                System.setProperty(FONT_CONFIGURATION, configuration().toString());
            }
            return create();
        } catch (IOException e) {
            throw new UncheckedIOException("the bundled font could not be read; is the temporary folder writable?", e);
        }
    }

    private static Font create() throws IOException {
        try (InputStream in = resource("DejaVuSans.ttf")) {
            return Font.createFont(Font.TRUETYPE_FONT, in);
        } catch (FontFormatException e) {
            throw new IllegalStateException("the bundled font DejaVuSans.ttf is damaged; install the program again", e);
        }
    }

    private static Path configuration() throws IOException {
        Path file = Files.createTempFile("ohmprint-fontconfig", ".properties");
        file.toFile().deleteOnExit();
        try (InputStream in = resource("fontconfig.properties")) {
            Files.write(file, in.readAllBytes());
        }
        return file;
    }

    private static InputStream resource(String name) {
        InputStream in = ChartFonts.class.getResourceAsStream(name);
        if (in == null) {
            throw new IllegalStateException("the bundled file " + name + " is missing; install the program again");
        }
        return in;
    }
}
