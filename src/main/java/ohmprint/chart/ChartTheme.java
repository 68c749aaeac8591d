package ohmprint.chart;

import java.awt.Color;

/**
 * Colours of a picture. Data colours are those of the Okabe–Ito palette, told apart with any colour vision; the lighter
 * ones serve on the dark ground.
 */
public enum ChartTheme {
    /** Dark ink on white, for paper. */
    LIGHT(
            0xFFFFFF, 0xF6F7F8, 0xFFFFFF, 0x8A9199, 0xD9DDE1, 0xECEEF0, 0x1B1F23, 0x59616A, 0x0072B2, 0xD55E00,
            0xE69F00, 0x009E73),
    /** Light ink on near-black, for a dim room. */
    DARK(
            0x14171A, 0x1D2125, 0x181C20, 0x6C757E, 0x343A41, 0x252A2F, 0xECEFF1, 0xA9B2BA, 0x56B4E9, 0xE69F00,
            0xF0E442, 0x009E73);

    private static final int[] SERIES_ON_LIGHT = {0x0072B2, 0xD55E00, 0x009E73, 0xCC79A7, 0xE69F00, 0x56B4E9};
    private static final int[] SERIES_ON_DARK = {0x56B4E9, 0xE69F00, 0x009E73, 0xCC79A7, 0xF0E442, 0xD55E00};

    private final Color ground;
    private final Color panel;
    private final Color plot;
    private final Color frame;
    private final Color grid;
    private final Color minorGrid;
    private final Color ink;
    private final Color mutedInk;
    private final Color first;
    private final Color second;
    private final Color third;
    private final Color good;

    ChartTheme(
            int ground,
            int panel,
            int plot,
            int frame,
            int grid,
            int minorGrid,
            int ink,
            int mutedInk,
            int first,
            int second,
            int third,
            int good) {
        this.ground = new Color(ground);
        this.panel = new Color(panel);
        this.plot = new Color(plot);
        this.frame = new Color(frame);
        this.grid = new Color(grid);
        this.minorGrid = new Color(minorGrid);
        this.ink = new Color(ink);
        this.mutedInk = new Color(mutedInk);
        this.first = new Color(first);
        this.second = new Color(second);
        this.third = new Color(third);
        this.good = new Color(good);
    }

    Color ground() {
        return ground;
    }

    Color panel() {
        return panel;
    }

    Color plot() {
        return plot;
    }

    Color frame() {
        return frame;
    }

    Color grid() {
        return grid;
    }

    Color minorGrid() {
        return minorGrid;
    }

    Color ink() {
        return ink;
    }

    Color mutedInk() {
        return mutedInk;
    }

    /** |Z|, real parts. */
    Color first() {
        return first;
    }

    /** Phase, imaginary parts; also what is wrong. */
    Color second() {
        return second;
    }

    /** Intervals; also what is doubtful. */
    Color third() {
        return third;
    }

    /** What is in order. */
    Color good() {
        return good;
    }

    /** Colours for curves that are compared, in their order; after six they begin again. */
    Color series(int i) {
        int[] colours = this == LIGHT ? SERIES_ON_LIGHT : SERIES_ON_DARK;
        return new Color(colours[i % colours.length]);
    }

    /** A colour at the strength of a shaded band. */
    static Color shade(Color c) {
        return new Color(c.getRed(), c.getGreen(), c.getBlue(), 56);
    }
}
