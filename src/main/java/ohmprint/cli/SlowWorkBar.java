package ohmprint.cli;

import java.io.PrintWriter;
import me.tongfei.progressbar.DelegatingProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import ohmprint.app.Progress;
import org.jspecify.annotations.Nullable;

/**
 * A progress bar that appears when work has lasted for a second and vanishes when it ends. Until then no class of the
 * library is loaded.
 */
final class SlowWorkBar implements Progress, AutoCloseable {
    private static final long PATIENCE_MILLIS = 1000;

    private final PrintWriter err;
    private final int columns;
    private String what = "";
    private double share;
    private boolean ended;
    private @Nullable Bar bar;

    private SlowWorkBar(PrintWriter err, int columns) {
        this.err = err;
        this.columns = columns;
    }

    /**
     * Begins to wait.
     *
     * @param err standard error, a terminal
     * @param columns width of the terminal in characters
     */
    static SlowWorkBar start(PrintWriter err, int columns) {
        SlowWorkBar work = new SlowWorkBar(err, columns);
        Thread waiting = new Thread(work::showWhenSlow, "progress");
        waiting.setDaemon(true);
        waiting.start();
        return work;
    }

    private synchronized void showWhenSlow() {
        long end = System.nanoTime() + PATIENCE_MILLIS * 1_000_000;
        try {
            for (long left = PATIENCE_MILLIS; left > 0 && !ended; left = (end - System.nanoTime()) / 1_000_000) {
                wait(left);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return;
        }
        if (!ended) {
            bar = new Bar(err, columns);
            bar.show(what, share);
        }
    }

    @Override
    public synchronized void at(String step, double done) {
        what = TerminalText.oneLine(step);
        share = Math.max(share, done);
        if (bar != null) {
            bar.show(what, share);
        }
    }

    /** Takes the bar away. */
    @Override
    public synchronized void close() {
        ended = true;
        notifyAll();
        if (bar != null) {
            bar.close();
            bar = null;
        }
    }

    /** The bar of the library, in a class of its own so that it is loaded late. */
    private static final class Bar {
        private static final int FULL = 100;

        private final PrintWriter err;
        private final int columns;
        private final ProgressBar shown;

        Bar(PrintWriter err, int columns) {
            this.err = err;
            this.columns = columns - 1;
            this.shown = new ProgressBarBuilder()
                    .setTaskName("measuring")
                    .setInitialMax(FULL)
                    .setUpdateIntervalMillis(200)
                    .setStyle(ProgressBarStyle.ASCII)
                    .hideEta()
                    .setConsumer(new DelegatingProgressBarConsumer(this::draw, this.columns))
                    .build();
        }

        void show(String what, double share) {
            shown.setExtraMessage(" " + what);
            shown.stepTo(Math.round(share * FULL));
        }

        void close() {
            shown.close();
            draw(" ".repeat(columns));
            draw("");
        }

        private void draw(String line) {
            err.print('\r' + line);
            err.flush();
        }
    }
}
