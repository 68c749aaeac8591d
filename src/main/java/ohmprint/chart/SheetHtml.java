package ohmprint.chart;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Map;

/**
 * A sheet as a page of its own: one HTML file that needs nothing else, well-formed XML, for light, dark and paper. The
 * template asks it for what it cannot say by itself: the style and the charts, which differ between screen and paper.
 */
public final class SheetHtml {
    /** Media type that marks the place of a chart on paper; its {@code data} is the number of the chart. */
    static final String CHART_TYPE = "application/x-ohmprint-chart";

    /** Width of the text on a page, the lesser of both sizes of paper. */
    private static final double PAGE_MILLIMETRES = 174;

    private static final String TEMPLATE = "sheet.jte";
    private static final String STYLE = "sheet.css";

    private final Sheet sheet;
    private final String style;
    private final boolean paper;
    private int drawings;

    private SheetHtml(Sheet sheet, String style, boolean paper) {
        this.sheet = sheet;
        this.style = style;
        this.paper = paper;
    }

    /** The text of the file, UTF-8, that a browser shows and prints. */
    public static String of(Sheet sheet) {
        return new SheetHtml(sheet, text(STYLE) + text("sheet-screen.css"), false).render();
    }

    /**
     * The same for the pages of a PDF file, in which a chart is a place of type {@link #CHART_TYPE}.
     *
     * @param size name of the size in CSS, such as {@code A4}
     */
    static String forPages(Sheet sheet, String size) {
        String pages = text("sheet-pages.css").replace("SIZE", size).replace("TITLE", quoted(sheet.title()));
        return new SheetHtml(sheet, text(STYLE) + pages, true).render();
    }

    private String render() {
        TemplateEngine engine = TemplateEngine.createPrecompiled(
                null, ContentType.Html, SheetHtml.class.getClassLoader(), SheetHtml.class.getPackageName());
        StringOutput out = new StringOutput();
        engine.render(TEMPLATE, Map.of("sheet", sheet, "page", this), out);
        return out.toString();
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
        return "<object type=\"" + CHART_TYPE + "\" data=\"" + number + "\" alt=\""
                + escape(drawing.description()) + "\" title=\"" + escape(drawing.description())
                + "\" style=\"width: 100%; height: "
                + Math.round(PAGE_MILLIMETRES
                        * drawing.light().height()
                        / drawing.light().width())
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

    private static String text(String name) {
        try (InputStream in = TextPainter.bundled(name)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
