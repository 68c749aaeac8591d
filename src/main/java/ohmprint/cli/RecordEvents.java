package ohmprint.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.Recording;
import ohmprint.app.record.TakeReport;
import ohmprint.impedance.Finding;
import ohmprint.text.Numbers;

/**
 * Tells what happens while a session is recorded: words on standard error, and if wanted one JSON object per event on
 * standard output, each on one line. Its key {@code event} says what it is; {@code "open"} stands for no resistor, null
 * for what is not known.
 */
final class RecordEvents implements Recording.Listener {
    private final Console console;
    private final LevelBar bar;
    private final boolean json;

    RecordEvents(Console console, boolean json) {
        this.console = console;
        this.bar = new LevelBar(console.err());
        this.json = json;
    }

    /** A line of words. */
    void say(String words) {
        bar.clear();
        console.note(words);
    }

    @Override
    public void noted(String message) {
        say("note: " + message);
        emit(new Json().put("event", "note").put("message", message));
    }

    /** A moving bar on a terminal; nothing elsewhere. */
    @Override
    public void heard(double peakDbfs, double rmsDbfs, double share) {
        if (console.around().progressWanted()) {
            bar.show(peakDbfs, share);
        }
    }

    /** A resistor as it is said: {@code 330 Ω}, or no resistor. */
    static String load(double ohm) {
        return Double.isInfinite(ohm) ? "no resistor" : Numbers.exact(ohm) + " Ω";
    }

    /** What the user has to do for a load. */
    static String fit(double ohm) {
        return Double.isInfinite(ohm) ? "fit no resistor (open)" : "fit " + load(ohm) + " across pins 2 and 3";
    }

    /** The plan: loads, sound, devices. */
    void planned(Recording recording) {
        String loads = String.join(
                ", ",
                recording.plannedOhms().stream()
                        .map(o -> Double.isInfinite(o) ? "open" : Numbers.exact(o))
                        .toList());
        say(String.format(
                Locale.ROOT,
                "Plan: %d takes of %.0f s with %s Ω; %s.",
                recording.plannedOhms().size(),
                recording.takeSeconds(),
                loads,
                recording.recorder()));
        if (!recording.takes().isEmpty()) {
            say("Recorded already: " + String.join(", ", recording.takes()) + ". Do not touch level and gain.");
        }
        emit(new Json()
                .put("event", "plan")
                .put("session", recording.folder())
                .list("loads_ohm", recording.plannedOhms(), RecordEvents::ohms)
                .list("remaining_ohm", recording.remainingOhms(), RecordEvents::ohms));
    }

    /** A load is to be fitted. */
    void fitting(int take, int takes, double ohm) {
        emit(new Json()
                .put("event", "fit")
                .put("take", take)
                .put("takes", takes)
                .put("load_ohm", ohms(ohm)));
    }

    /** The level was checked. */
    void level(LevelReport report) {
        tell(report.findings());
        say(String.format(
                Locale.ROOT,
                "Level: peak %s%.1f dBFS, %s%s.",
                report.clipped() ? "at least " : "",
                report.peakDbfs(),
                report.clipped() ? "clipped" : String.format(Locale.ROOT, "headroom %.1f dB", -report.peakDbfs()),
                Double.isNaN(report.noiseDbfs())
                        ? ""
                        : String.format(Locale.ROOT, ", noise %.0f dBFS", report.noiseDbfs())));
        if (report.gainChangeDb() != 0 && Double.isFinite(report.gainChangeDb())) {
            say(String.format(
                    Locale.ROOT,
                    report.clipped()
                            ? "Gain: %s by at least %.0f dB; the true peak is not known, so check the level again."
                            : "Gain: %s by about %.0f dB.",
                    report.gainChangeDb() > 0 ? "raise it" : "lower it",
                    Math.abs(report.gainChangeDb())));
        } else if (report.acceptable()) {
            say("Gain: well set.");
        }
        LevelReport.Predicted predicted = report.predicted();
        if (predicted != null) {
            say(String.format(
                    Locale.ROOT,
                    "Expected: signal %.0f dB over noise; for %s Ω, 95 %% uncertainty ± %s %% in the median band%s.",
                    report.signalToNoiseDb(),
                    Numbers.digits(predicted.expectedOhm(), 3),
                    Double.isInfinite(predicted.medianPercent()) ? "?" : Numbers.digits(predicted.medianPercent(), 2),
                    Double.isNaN(predicted.fromHz())
                            ? ""
                            : ", below 10 % from " + Numbers.frequency(predicted.fromHz()) + " to "
                                    + Numbers.frequency(predicted.toHz())));
        }
        emit(new Json()
                .put("event", "level")
                .put("acceptable", report.acceptable())
                .put("clipped", report.clipped())
                .put("peak_dbfs", report.peakDbfs())
                .put("gain_change_db", report.gainChangeDb())
                .put("noise_dbfs", report.noiseDbfs())
                .put("signal_to_noise_db", report.signalToNoiseDb())
                .put("predicted_median_u95_percent", predicted == null ? null : (Object) predicted.medianPercent())
                .put("predicted_from_hz", predicted == null ? null : (Object) predicted.fromHz())
                .put("predicted_to_hz", predicted == null ? null : (Object) predicted.toHz())
                .findings(report.findings()));
    }

    /** A take was recorded and checked. */
    void taken(TakeReport report) {
        tell(report.findings());
        Double step = report.stepDb();
        say(String.format(
                Locale.ROOT,
                "Take %d, %s: peak %.1f dBFS%s%s; %s.",
                report.number(),
                load(report.loadOhm()),
                report.peakDbfs(),
                Double.isNaN(report.noiseDbfs())
                        ? ""
                        : String.format(Locale.ROOT, ", noise %.0f dBFS", report.noiseDbfs()),
                step == null || step.isNaN()
                        ? ""
                        : String.format(Locale.ROOT, ", %+.2f dB against %s", step, report.comparedTo()),
                report.usable() ? "good" : "not usable"));
        emit(new Json()
                .put("event", "take")
                .put("take", report.number())
                .put("file", report.file())
                .put("load_ohm", ohms(report.loadOhm()))
                .put("usable", report.usable())
                .put("peak_dbfs", report.peakDbfs())
                .put("noise_dbfs", report.noiseDbfs())
                .put("step_db", step)
                .findings(report.findings()));
    }

    /** What became of a take. */
    void judged(String file, boolean kept) {
        emit(new Json().put("event", kept ? "kept" : "repeat").put("file", file));
    }

    /** The end. */
    void ended(Recording recording) {
        boolean all = recording.remainingOhms().isEmpty();
        emit(new Json()
                .put("event", all ? "done" : "stopped")
                .put("session", recording.folder())
                .put("takes", recording.takes())
                .list("remaining_ohm", recording.remainingOhms(), RecordEvents::ohms));
        if (!json) {
            console.line("session", recording.folder().toString());
            console.line("takes", recording.takes().isEmpty() ? "none" : String.join(", ", recording.takes()));
            console.line("next", "ohmprint " + (all ? "measure " : "record ") + recording.folder());
        }
    }

    private static Object ohms(double ohm) {
        return Double.isInfinite(ohm) ? "open" : (Object) ohm;
    }

    /** Prints an event for a program, as soon as it happens, if that is wanted. */
    private void emit(Json event) {
        if (json) {
            event.print(console.out());
            console.out().flush();
        }
    }

    private void tell(List<Finding> findings) {
        bar.clear();
        console.tell(findings);
    }

    /**
     * A bar on one line of a terminal that moves with the level: from −60 dBFS at its left end to full scale at its right one,
     * as its ends say, with a mark every 20 dB. Before it stands the share of the take that is over, behind it the peak in dBFS,
     * and from the first sample at full scale on to the end of the take, the word clipping.
     */
    static final class LevelBar {
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
}
