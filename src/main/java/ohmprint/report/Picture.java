package ohmprint.report;

import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.util.function.DoubleFunction;
import org.jfree.svg.SVGGraphics2D;
import org.jfree.svg.ViewBox;

/** Turns a chart into SVG or PNG. */
final class Picture {
    /** Width of a picture that stands for itself, in units. */
    static final int WIDTH = 1200;

    /** Height of a picture that stands for itself, in units. */
    static final int HEIGHT = 760;

    /** Free space at the edges of such a picture, in units. */
    static final double MARGIN = 26;

    private static final int PIXELS_PER_UNIT = 2;

    private Picture() {}

    static String svg(Chart chart) {
        SVGGraphics2D g = new SVGGraphics2D(chart.width(), chart.height());
        // without this the names of clip paths would hold the time of day
        g.setDefsKeyPrefix("ohmprint");
        DoubleFunction<String> twoDecimals = Picture::twoDecimals;
        g.setGeomDoubleConverter(twoDecimals);
        g.setTransformDoubleConverter(twoDecimals);
        g.setFontFunction(family -> ChartFonts.FAMILIES);
        hints(g);
        chart.draw(g);
        String svg = g.getSVGElement("ohmprint", true, new ViewBox(0, 0, chart.width(), chart.height()), null, null);
        int end = svg.indexOf('>') + 1;
        return svg.substring(0, end) + "<title>" + escape(chart.title()) + "</title>" + svg.substring(end) + "\n";
    }

    static byte[] png(Chart chart) {
        return Png.encode(image(chart));
    }

    static BufferedImage image(Chart chart) {
        BufferedImage image = new BufferedImage(
                chart.width() * PIXELS_PER_UNIT, chart.height() * PIXELS_PER_UNIT, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        g.scale(PIXELS_PER_UNIT, PIXELS_PER_UNIT);
        hints(g);
        chart.draw(g);
        g.dispose();
        return image;
    }

    static void hints(Graphics2D g) {
        g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
        g.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
    }

    /** Two decimals at most, no exponent, whatever the locale. */
    static String twoDecimals(double value) {
        long hundredths = Math.round(value * 100);
        String sign = hundredths < 0 ? "-" : "";
        long whole = Math.abs(hundredths) / 100;
        long rest = Math.abs(hundredths) % 100;
        if (rest == 0) {
            return sign + whole;
        }
        String digits = rest < 10 ? "0" + rest : Long.toString(rest);
        return sign + whole + "." + (rest % 10 == 0 ? digits.substring(0, 1) : digits);
    }

    private static String escape(String text) {
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
    }
}
