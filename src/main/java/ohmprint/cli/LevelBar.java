package ohmprint.cli;

import java.io.PrintWriter;
import java.util.Locale;

/**
 * A bar on one line of a terminal that moves with the level: from −60 dBFS at its left end to full scale at its right one,
 * as its ends say, with a mark every 20 dB. Before it stands the share of the take that is over, behind it the peak in dBFS,
 * and from the first sample at full scale on to the end of the take, the word clipping.
 */
final class LevelBar {
    private static final double BOTTOM_DBFS = -60;
    private static final double LEAST_SHOWN_DBFS = -120;
    private static final int COLUMNS = 30;
    private static final double MARK_DB = 20;
    /** Full scale is one step below 0 dBFS for samples above zero. */
    private static final double FULL_SCALE_DBFS = -0.01;
    /** What stands beside the bar at most. */
    private static final int BESIDE = 48;

    private final PrintWriter err;
    private boolean shown;
    private boolean clipping;

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
        StringBuilder bar = new StringBuilder("#".repeat(filled) + "-".repeat(COLUMNS - filled));
        int mark = (int) Math.round(-MARK_DB * COLUMNS / BOTTOM_DBFS);
        for (int at = mark; at < COLUMNS; at += mark) {
            bar.setCharAt(at, '|');
        }
        clipping |= peakDbfs >= FULL_SCALE_DBFS;
        double peak = Math.max(LEAST_SHOWN_DBFS, peakDbfs);
        err.print(String.format(
                Locale.ROOT,
                "\r  %3.0f %%  %.0f [%s] 0 dBFS  %6.1f dBFS %s",
                100 * share,
                BOTTOM_DBFS,
                bar,
                peak,
                clipping ? "clipping" : ""));
        err.flush();
        shown = true;
    }

    /** Takes the bar away, so that words can begin on its line; does nothing without one. */
    void clear() {
        if (shown) {
            err.print("\r" + " ".repeat(COLUMNS + BESIDE) + "\r");
            shown = false;
            clipping = false;
        }
    }
}
