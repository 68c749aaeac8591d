package ohmprint.report;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;

/** Getting ready for pictures while there is other work to do. */
public final class Charts {
    private static final int SIDE = 16;

    private Charts() {}

    /**
     * Loads the font and the drawing system: for a thread beside one that has other work to do before its first picture.
     * Calling it again, or not at all, does no harm.
     */
    public static void prepare() {
        BufferedImage image = new BufferedImage(SIDE, SIDE, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        g.setFont(ChartFonts.plain(SIDE));
        g.setColor(Color.WHITE);
        g.drawString("Ω", 0, SIDE);
        g.dispose();
    }
}
