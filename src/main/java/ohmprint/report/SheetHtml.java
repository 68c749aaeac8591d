package ohmprint.report;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.util.Map;

/** A sheet as a page of its own: one HTML file that needs nothing else, well-formed XML, for light, dark and paper. */
public final class SheetHtml {
    private static final String TEMPLATE = "sheet.jte";

    private SheetHtml() {}

    /** The text of the file, UTF-8. */
    public static String of(Sheet sheet) {
        return render(sheet, SheetText.screen(sheet));
    }

    static String render(Sheet sheet, SheetText text) {
        TemplateEngine engine = TemplateEngine.createPrecompiled(
                null, ContentType.Html, SheetHtml.class.getClassLoader(), SheetHtml.class.getPackageName());
        StringOutput out = new StringOutput();
        engine.render(TEMPLATE, Map.of("sheet", sheet, "text", text), out);
        return out.toString();
    }
}
