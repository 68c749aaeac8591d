package ohmprint.chart;

import java.awt.Color;
import java.awt.Font;
import java.awt.FontFormatException;
import java.awt.Graphics2D;
import java.awt.font.FontRenderContext;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * Words on a picture: the bundled font in the sizes that are used, how wide words are in it whatever they are drawn on, how
 * they are fitted into a width, and how they are drawn.
 */
final class TextPainter {
    /** Font families of an SVG: the bundled one first, then whatever the viewer has. */
    static final String FAMILIES = "DejaVu Sans, Noto Sans, Liberation Sans, sans-serif";

    /** A viewer's own bold face is wider than the emboldened face measured here, by about this factor. */
    static final double BOLD_ROOM = 1.13;

    private static final String FONT_CONFIGURATION = "sun.awt.fontconfig";
    private static final Font BASE = load();
    private static final FontRenderContext CONTEXT = new FontRenderContext(null, true, true);
    private static final String MORE = "…";

    /** Letters of the heading. */
    static final Font TITLE = bold(20);

    /** Letters of what stands beneath the heading. */
    static final Font SUBTITLE = plain(14);

    /** Letters of keys and captions. */
    static final Font SMALL = plain(12);

    private static final double SMALL_LEADING = 17;

    private TextPainter() {}

    /** Upright, in units of the picture. */
    static Font plain(float size) {
        return BASE.deriveFont(size);
    }

    /** Emboldened, in units of the picture. */
    static Font bold(float size) {
        return BASE.deriveFont(Font.BOLD, size);
    }

    /** Words that begin at x, with the letters standing on y. */
    static void line(Graphics2D g, Font font, Color color, String words, double x, double y) {
        g.setFont(font);
        g.setColor(color);
        g.drawString(words, (float) x, (float) y);
    }

    /** Small lines beneath each other, the first standing on y. */
    static void lines(Graphics2D g, Color color, List<String> lines, double x, double y) {
        for (int i = 0; i < lines.size(); i++) {
            line(g, SMALL, color, lines.get(i), x, y + i * SMALL_LEADING);
        }
    }

    /** Width in units of the picture, with room for a viewer's own bold face. */
    static double width(String text, Font font) {
        double width = font.getStringBounds(text, CONTEXT).getWidth();
        return font.isBold() ? width * BOLD_ROOM : width;
    }

    /** The text on one line, shortened with an ellipsis where it is too long. */
    static String oneLine(String text, Font font, double room) {
        String clean = printable(text);
        if (width(clean, font) <= room) {
            return clean;
        }
        int fits = longestStart(clean, font, room - width(MORE, font));
        return clean.substring(0, fits).stripTrailing() + MORE;
    }

    /** The text in lines no wider than the room, broken at blanks, or within a word that fits no line. */
    static List<String> wrap(String text, Font font, double room) {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : printable(text).split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (width(longer, font) <= room) {
                line = longer;
                continue;
            }
            if (!line.isEmpty()) {
                lines.add(line);
            }
            line = word;
            while (width(line, font) > room) {
                int fits = Math.max(1, longestStart(line, font, room));
                lines.add(line.substring(0, fits));
                line = line.substring(fits);
            }
        }
        lines.add(line);
        return lines;
    }

    /** At most {@code most} lines, the last one with an ellipsis if the text goes on. */
    static List<String> wrap(String text, Font font, double room, int most) {
        List<String> lines = wrap(text, font, room);
        if (lines.size() <= most) {
            return lines;
        }
        List<String> start = new ArrayList<>(lines.subList(0, most));
        start.set(most - 1, oneLine(lines.get(most - 1) + " " + lines.get(most) + MORE, font, room));
        return start;
    }

    private static int longestStart(String text, Font font, double room) {
        int fits = 0;
        for (int i = 1; i <= text.length(); i++) {
            boolean splitsPair = i < text.length() && Character.isLowSurrogate(text.charAt(i));
            if (!splitsPair) {
                if (width(text.substring(0, i), font) > room) {
                    break;
                }
                fits = i;
            }
        }
        return fits;
    }

    /** Line breaks as blanks; characters that neither XML nor a picture can hold as replacement characters. */
    private static String printable(String text) {
        StringBuilder out = new StringBuilder(text.length());
        text.strip().codePoints().forEach(c -> {
            if (Character.isWhitespace(c)) {
                out.append(' ');
            } else if (Character.isISOControl(c)
                    || Character.getType(c) == Character.SURROGATE
                    || (c & 0xFFFE) == 0xFFFE) {
                out.append('\uFFFD');
            } else {
                out.appendCodePoint(c);
            }
        });
        return out.toString();
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
        try (InputStream in = bundled("DejaVuSans.ttf")) {
            return Font.createFont(Font.TRUETYPE_FONT, in);
        } catch (FontFormatException e) {
            throw new IllegalStateException("the bundled font DejaVuSans.ttf is damaged; install the program again", e);
        }
    }

    private static Path configuration() throws IOException {
        Path file = Files.createTempFile("ohmprint-fontconfig", ".properties");
        file.toFile().deleteOnExit();
        try (InputStream in = bundled("fontconfig.properties")) {
            Files.write(file, in.readAllBytes());
        }
        return file;
    }

    /** A file that lies beside the classes of this package. */
    static InputStream bundled(String name) {
        InputStream in = TextPainter.class.getResourceAsStream(name);
        if (in == null) {
            throw new IllegalStateException("the bundled file " + name + " is missing; install the program again");
        }
        return in;
    }
}
