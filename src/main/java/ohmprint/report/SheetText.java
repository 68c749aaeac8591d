package ohmprint.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Locale;

/** What the template of a sheet cannot say by itself: the style and the charts, which differ between screen and paper. */
final class SheetText {
    private static final String STYLE = "sheet.css";

    private final Sheet sheet;
    private final String style;
    private final boolean paper;
    private int drawings;

    private SheetText(Sheet sheet, String style, boolean paper) {
        this.sheet = sheet;
        this.style = style;
        this.paper = paper;
    }

    /** For a page that a browser shows and prints. */
    static SheetText screen(Sheet sheet) {
        return new SheetText(sheet, resource(STYLE) + resource("sheet-screen.css"), false);
    }

    /**
     * For the pages of a PDF file.
     *
     * @param size name of the size in CSS, such as {@code A4}
     */
    static SheetText pages(Sheet sheet, String size) {
        return new SheetText(
                sheet,
                resource(STYLE)
                        + resource("sheet-pages.css").replace("SIZE", size).replace("TITLE", quoted(sheet.title())),
                true);
    }

    String style() {
        return style;
    }

    String logo() {
        Sheet.Logo logo = sheet.workshop().logo();
        return logo == null ? "" : "data:" + logo.mediaType() + ";base64," + logo.base64();
    }

    String tone(Sheet.Notice notice) {
        return notice.tone().name().toLowerCase(Locale.ROOT);
    }

    /** A chart for a screen is there twice, and the style shows one; on paper it is a place that the PDF writer fills. */
    String drawing(Sheet.Drawing drawing) {
        int number = drawings++;
        if (!paper) {
            return inline(drawing.light(), drawing.description(), "light", number)
                    + inline(drawing.dark(), drawing.description(), "dark", number);
        }
        return "<object type=\"" + ChartPlaces.TYPE + "\" data=\"" + number + "\" alt=\""
                + escape(drawing.description()) + "\" title=\"" + escape(drawing.description())
                + "\" style=\"width: 100%; height: " + ChartPlaces.heightMillimetres(drawing.light())
                + "mm\"></object>";
    }

    private static String inline(Chart chart, String description, String theme, int number) {
        String svg = chart.svg().replace("ohmprint", "c" + number + theme);
        int start = svg.indexOf("<svg ");
        // A namespace that nothing in it uses, and that HTML does not know.
        svg = svg.replaceFirst(" xmlns:jfreesvg='[^']*'", "");
        return "<div class=\"" + theme + "\">" + "<svg role=\"img\" aria-label=\"" + escape(description) + "\" "
                + svg.substring(start + "<svg ".length()).strip() + "</div>";
    }

    /** As the contents of a string of CSS. */
    private static String quoted(String text) {
        StringBuilder out = new StringBuilder();
        text.codePoints()
                .forEach(c -> out.append(
                        Character.isLetterOrDigit(c) || c == ' ' ? Character.toString(c) : String.format("\\%06x", c)));
        return out.toString();
    }

    private static String escape(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }

    private static String resource(String name) {
        try (InputStream in = SheetText.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IllegalStateException("the bundled file " + name + " is missing; install the program again");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
