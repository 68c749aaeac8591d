package ohmprint.chart;

import java.awt.Graphics2D;

/** A picture that stands for itself, in the one size of such pictures: a heading, and what is shown below it. */
abstract class StandaloneChart extends Chart {
    /** Width in units. */
    static final int WIDTH = 1200;

    /** Free space at the edges in units. */
    static final double MARGIN = 26;

    /** Where keys and captions begin, in units. */
    static final double INDENT = MARGIN + 48;

    /** Height in units. */
    static final int HEIGHT = 760;

    private final String title;
    private final String heading;
    private final String subtitle;

    /**
     * An empty picture; what is too long for its width is shortened.
     *
     * @param title what it shows, in a line
     * @param heading the line above it
     * @param subtitle the line below that
     */
    StandaloneChart(ChartTheme theme, String title, String heading, String subtitle) {
        super(WIDTH, HEIGHT, theme);
        this.title = title;
        this.heading = heading;
        this.subtitle = subtitle;
    }

    /** Draws what stands below the heading. */
    abstract void body(Graphics2D g);

    @Override
    final String title() {
        return TextPainter.oneLine(title, TextPainter.SUBTITLE, WIDTH);
    }

    @Override
    final void content(Graphics2D g) {
        double room = WIDTH - 2 * MARGIN;
        TextPainter.line(
                g, TextPainter.TITLE, theme.ink(), TextPainter.oneLine(heading, TextPainter.TITLE, room), MARGIN, 38);
        String below = TextPainter.oneLine(subtitle, TextPainter.SUBTITLE, room);
        TextPainter.line(g, TextPainter.SUBTITLE, theme.mutedInk(), below, MARGIN, 61);
        body(g);
    }

    /** Draws what has to be said below the plots, in so many lines at most, the first one standing on y. */
    final void caption(Graphics2D g, String words, double room, int most, double y) {
        TextPainter.lines(g, theme.mutedInk(), TextPainter.wrap(words, TextPainter.SMALL, room, most), INDENT, y);
    }

    /** The plots and their key alone, smaller, for a page that says the rest in its own words. */
    abstract class OnPage extends Chart {
        /** Where the key begins, in units. */
        static final double KEY_X = 60;

        private static final int PAGE_WIDTH = 760;

        /** Width for the plots in units; the rest is for half of the last label of the axis. */
        static final double PLOTS_WIDTH = PAGE_WIDTH - 12;

        OnPage(int height) {
            super(PAGE_WIDTH, height, StandaloneChart.this.theme);
        }

        @Override
        final String title() {
            return StandaloneChart.this.title();
        }
    }
}
