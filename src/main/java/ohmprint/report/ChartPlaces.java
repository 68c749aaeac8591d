package ohmprint.report;

import com.openhtmltopdf.extend.FSObjectDrawer;
import com.openhtmltopdf.extend.FSObjectDrawerFactory;
import com.openhtmltopdf.extend.OutputDevice;
import com.openhtmltopdf.render.RenderingContext;
import de.rototor.pdfbox.graphics2d.PdfBoxGraphics2D;
import de.rototor.pdfbox.graphics2d.PdfBoxGraphics2DFontTextDrawer;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.util.List;
import java.util.Map;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.jspecify.annotations.Nullable;
import org.w3c.dom.Element;

/** Fills the places of charts on the pages of a PDF file with drawings whose text can be searched. */
final class ChartPlaces implements FSObjectDrawerFactory, FSObjectDrawer {
    /** Media type that marks a place. */
    static final String TYPE = "application/x-ohmprint-chart";

    /** Width of the text on a page in millimetres, the lesser of both sizes of paper. */
    static final double WIDTH_MILLIMETRES = 174;

    private final List<Chart> charts;
    private final PdfBoxGraphics2DFontTextDrawer letters;

    ChartPlaces(List<Chart> charts, PDFont font) {
        this.charts = charts;
        this.letters = new OneFont(font);
    }

    static long heightMillimetres(Chart chart) {
        return Math.round(WIDTH_MILLIMETRES * chart.height() / chart.width());
    }

    @Override
    public FSObjectDrawer createDrawer(Element place) {
        return this;
    }

    @Override
    public boolean isReplacedObject(Element place) {
        return place.getAttribute("type").equals(TYPE);
    }

    @Override
    public @Nullable Map<Shape, String> drawObject(
            Element place,
            double x,
            double y,
            double width,
            double height,
            OutputDevice device,
            RenderingContext context,
            int dotsPerPixel) {
        Chart chart = charts.get(Integer.parseInt(place.getAttribute("data")));
        float w = (float) (width / dotsPerPixel);
        float h = (float) (height / dotsPerPixel);
        device.drawWithGraphics((float) x, (float) y, w, h, g -> {
            if (g instanceof PdfBoxGraphics2D pdf) {
                pdf.setFontTextDrawer(letters);
            }
            draw(chart, g, w, h);
        });
        return null;
    }

    private static void draw(Chart chart, Graphics2D g, double width, double height) {
        double scale = Math.min(width / chart.width(), height / chart.height());
        Picture.hints(g);
        g.scale(scale, scale);
        chart.draw(g);
    }

    /** All text of charts is of one bundled font. */
    private static final class OneFont extends PdfBoxGraphics2DFontTextDrawer {
        private final PDFont font;

        OneFont(PDFont font) {
            this.font = font;
        }

        @Override
        protected PDFont mapFont(Font asked, IFontTextDrawerEnv env) {
            return font;
        }
    }
}
