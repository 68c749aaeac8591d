package ohmprint.report;

import java.awt.Graphics2D;

/** Something that can be drawn on an area of its own size: the one form in which pictures are made. */
public interface Chart {
    /** Width in units. */
    int width();

    /** Height in units. */
    int height();

    /** What it shows, in a line. */
    String title();

    /** Draws it at the origin; one unit is one user unit of the graphics. */
    void draw(Graphics2D g);

    /** The text of an SVG file of {@link #width} × {@link #height} units, in which text stays text. */
    default String svg() {
        return Picture.svg(this);
    }

    /** The bytes of a PNG file with two pixels per unit. */
    default byte[] png() {
        return Picture.png(this);
    }
}
