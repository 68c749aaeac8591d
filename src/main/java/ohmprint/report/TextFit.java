package ohmprint.report;

import java.awt.Font;
import java.awt.font.FontRenderContext;
import java.util.ArrayList;
import java.util.List;

/** Fits words into a width, measured with the bundled font and independent of what they are drawn on. */
final class TextFit {
    private static final FontRenderContext CONTEXT = new FontRenderContext(null, true, true);
    private static final String MORE = "…";

    private TextFit() {}

    /** Width in units of the picture, with room for a viewer's own bold face. */
    static double width(String text, Font font) {
        double width = font.getStringBounds(text, CONTEXT).getWidth();
        return font.isBold() ? width * ChartFonts.BOLD_ROOM : width;
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
}
