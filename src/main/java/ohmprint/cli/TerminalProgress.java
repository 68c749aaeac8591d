package ohmprint.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import ohmprint.app.Progress;

/**
 * A line that tells how far slow work is. It appears when the work has lasted for a second, is drawn again five times a second
 * and vanishes when the work ends.
 */
final class TerminalProgress implements Progress, AutoCloseable {
    private static final long PATIENCE_NANOS = TimeUnit.SECONDS.toNanos(1);
    private static final long REDRAW_MILLIS = 200;
    private static final int BAR = 20;

    private final PrintWriter err;
    private final int columns;
    private final long begun = System.nanoTime();
    private String what = "";
    private double share;
    private boolean shown;
    private boolean ended;

    private TerminalProgress(PrintWriter err, int columns) {
        this.err = err;
        // the last column stays free: a character there makes some terminals begin a new line
        this.columns = columns - 1;
    }

    /**
     * Begins to wait.
     *
     * @param err standard error, a terminal
     * @param columns width of the terminal in characters
     */
    static TerminalProgress start(PrintWriter err, int columns) {
        TerminalProgress work = new TerminalProgress(err, columns);
        Thread drawing = new Thread(work::drawUntilEnded, "progress");
        drawing.setDaemon(true);
        drawing.start();
        return work;
    }

    private synchronized void drawUntilEnded() {
        try {
            while (!ended) {
                if (System.nanoTime() - begun >= PATIENCE_NANOS) {
                    draw();
                }
                wait(REDRAW_MILLIS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void draw() {
        long seconds = TimeUnit.NANOSECONDS.toSeconds(System.nanoTime() - begun);
        int done = (int) Math.round(share * BAR);
        String line = String.format(
                Locale.ROOT,
                "measuring [%s%s] %d %%, %d s  %s",
                "=".repeat(done),
                " ".repeat(BAR - done),
                Math.round(100 * share),
                seconds,
                what);
        err.print('\r' + (line + " ".repeat(columns)).substring(0, columns));
        err.flush();
        shown = true;
    }

    @Override
    public synchronized void at(String step, double done) {
        what = TerminalText.oneLine(step);
        share = Math.max(share, Math.min(1, done));
    }

    /** Takes the line away. */
    @Override
    public synchronized void close() {
        ended = true;
        notifyAll();
        if (shown) {
            err.print('\r' + " ".repeat(columns) + '\r');
            err.flush();
        }
    }
}
