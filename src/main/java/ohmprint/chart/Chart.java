package ohmprint.chart;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.util.function.DoubleFunction;
import org.jfree.svg.SVGGraphics2D;
import org.jfree.svg.ViewBox;

/**
 * Something that can be drawn on an area of its own size, and from there as SVG or PNG: the one form in which pictures are
 * made. Nothing is drawn before it is asked for.
 */
public abstract class Chart {
    private static final int PIXELS_PER_UNIT = 2;
    private static final int TRIAL_SIDE = 16;

    /** Colours of this picture. */
    final ChartTheme theme;

    private final int width;
    private final int height;

    /**
     * An empty picture.
     *
     * @param width width in units
     * @param height height in units
     */
    Chart(int width, int height, ChartTheme theme) {
        this.width = width;
        this.height = height;
        this.theme = theme;
    }

    /**
     * Loads the font and the drawing system: for a thread beside one that has other work to do before its first picture.
     * Calling it again, or not at all, does no harm.
     */
    public static void prepare() {
        BufferedImage image = new BufferedImage(TRIAL_SIDE, TRIAL_SIDE, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        TextPainter.line(g, TextPainter.plain(TRIAL_SIDE), Color.WHITE, "Ω", 0, TRIAL_SIDE);
        g.dispose();
    }

    /** What it shows, in a line. */
    abstract String title();

    /** Draws what it shows over the ground. */
    abstract void content(Graphics2D g);

    final int width() {
        return width;
    }

    final int height() {
        return height;
    }

    /** Draws it at the origin; one unit is one user unit of the graphics. */
    final void draw(Graphics2D g) {
        g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
        g.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, width, height));
        content(g);
    }

    /** The text of an SVG file of the size of the picture, in which text stays text. */
    public final String svg() {
        SVGGraphics2D g = new SVGGraphics2D(width, height);
        // without this the names of clip paths would hold the time of day
        g.setDefsKeyPrefix("ohmprint");
        DoubleFunction<String> twoDecimals = Chart::twoDecimals;
        g.setGeomDoubleConverter(twoDecimals);
        g.setTransformDoubleConverter(twoDecimals);
        g.setFontFunction(family -> TextPainter.FAMILIES);
        draw(g);
        String svg = g.getSVGElement("ohmprint", true, new ViewBox(0, 0, width, height), null, null);
        int end = svg.indexOf('>') + 1;
        String title = title().replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
        return svg.substring(0, end) + "<title>" + title + "</title>" + svg.substring(end) + "\n";
    }

    /** The bytes of a PNG file with two pixels per unit. */
    public final byte[] png() {
        BufferedImage image =
                new BufferedImage(width * PIXELS_PER_UNIT, height * PIXELS_PER_UNIT, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        g.scale(PIXELS_PER_UNIT, PIXELS_PER_UNIT);
        draw(g);
        g.dispose();
        return Png.encode(image);
    }

    /** Two decimals at most, no exponent, whatever the locale. */
    private static String twoDecimals(double value) {
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
}
