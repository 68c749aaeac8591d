package ohmprint.study;

import java.io.PrintStream;
import me.tongfei.progressbar.DelegatingProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;

/** A progress bar on a terminal; elsewhere a line for every tenth of the work. */
final class StudyBar implements AutoCloseable {
    private static final int FULL = 1000;
    private static final int COLUMNS = 79;

    private final PrintStream err;
    private final ProgressBar bar;
    private final boolean terminal = System.console() != null;
    private int tenths;

    StudyBar(PrintStream err) {
        this.err = err;
        bar = new ProgressBarBuilder()
                .setTaskName("validating")
                .setInitialMax(FULL)
                .setUpdateIntervalMillis(500)
                .setStyle(ProgressBarStyle.ASCII)
                .setConsumer(new DelegatingProgressBarConsumer(this::draw, COLUMNS))
                .build();
    }

    private void draw(String line) {
        if (terminal) {
            err.print('\r' + line);
            err.flush();
        }
    }

    /** Shows how much is done. */
    synchronized void at(double share) {
        bar.stepTo(Math.max(bar.getCurrent(), (long) (share * FULL)));
        int now = (int) (10 * share);
        if (!terminal && now > tenths) {
            tenths = now;
            err.println("validating: " + 10 * tenths + " %");
        }
    }

    @Override
    public void close() {
        bar.close();
        draw(" ".repeat(COLUMNS));
        draw("");
    }
}
