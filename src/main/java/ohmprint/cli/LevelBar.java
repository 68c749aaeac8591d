package ohmprint.cli;

import java.io.PrintWriter;
import java.util.Locale;

/**
 * A bar on one line of a terminal that moves with the level: from −60 dBFS at its left end to full scale at its right one,
 * before it the share of the take that is over, behind it the peak in dBFS.
 */
final class LevelBar {
    private static final double BOTTOM_DBFS = -60;
    private static final double LEAST_SHOWN_DBFS = -120;
    private static final int COLUMNS = 30;
    /** What the numbers take at most. */
    private static final int BESIDE = 28;

    private final PrintWriter err;
    private boolean shown;

    LevelBar(PrintWriter err) {
        this.err = err;
    }

    /**
     * Shows a level in the place of the last one.
     *
     * @param peakDbfs highest sample of late, dBFS
     * @param share how much of the take is over, 0 to 1
     */
    void show(double peakDbfs, double share) {
        int filled = (int) Math.round(COLUMNS * Math.min(1, Math.max(0, 1 - peakDbfs / BOTTOM_DBFS)));
        String bar = "#".repeat(filled) + "-".repeat(COLUMNS - filled);
        double peak = Math.max(LEAST_SHOWN_DBFS, peakDbfs);
        err.print(String.format(Locale.ROOT, "\r  %3.0f %%  [%s] %6.1f dBFS ", 100 * share, bar, peak));
        err.flush();
        shown = true;
    }

    /** Takes the bar away, so that words can begin on its line; does nothing without one. */
    void clear() {
        if (shown) {
            err.print("\r" + " ".repeat(COLUMNS + BESIDE) + "\r");
            shown = false;
        }
    }
}
