package ohmprint.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.RecordListener;
import ohmprint.app.record.Recording;
import ohmprint.app.record.TakeReport;
import ohmprint.curve.Finding;
import ohmprint.curve.Rounded;
import org.jspecify.annotations.Nullable;

/** Tells what happens while a session is recorded: words on standard error, JSON lines on standard output if wanted. */
final class RecordEvents implements RecordListener {
    private final Console console;
    private final LevelBar bar;
    private final @Nullable RecordJson json;

    RecordEvents(Console console, boolean json) {
        this.console = console;
        this.bar = new LevelBar(console.err());
        this.json = json ? new RecordJson(console.out()) : null;
    }

    /** A line of words. */
    void say(String words) {
        bar.clear();
        console.err().println(OneLine.of(words));
        console.err().flush();
    }

    @Override
    public void noted(String message) {
        say("note: " + message);
        if (json != null) {
            json.noted(message);
        }
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
        return Double.isInfinite(ohm) ? "no resistor" : Options.plain(ohm) + " Ω";
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
                        .map(o -> Double.isInfinite(o) ? "open" : Options.plain(o))
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
        if (json != null) {
            json.planned(recording);
        }
    }

    /** A load is to be fitted. */
    void fitting(int take, int takes, double ohm) {
        if (json != null) {
            json.fitting(take, takes, ohm);
        }
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
                    Rounded.digits(predicted.expectedOhm(), 3),
                    Double.isInfinite(predicted.medianPercent()) ? "?" : Rounded.digits(predicted.medianPercent(), 2),
                    Double.isNaN(predicted.fromHz())
                            ? ""
                            : ", below 10 % from " + Rounded.frequency(predicted.fromHz()) + " to "
                                    + Rounded.frequency(predicted.toHz())));
        }
        if (json != null) {
            json.level(report);
        }
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
        if (json != null) {
            json.taken(report);
        }
    }

    /** What became of a take. */
    void judged(String file, boolean kept) {
        if (json != null) {
            json.judged(file, kept);
        }
    }

    /** The end. */
    void ended(Recording recording) {
        if (json != null) {
            json.ended(recording);
            return;
        }
        PrintWriter out = console.out();
        String next = recording.remainingOhms().isEmpty() ? "measure " : "record ";
        out.println("session     " + OneLine.of(recording.folder().toString()));
        out.println("takes       " + (recording.takes().isEmpty() ? "none" : String.join(", ", recording.takes())));
        out.println(
                "next        ohmprint " + next + OneLine.of(recording.folder().toString()));
    }

    private void tell(List<Finding> findings) {
        bar.clear();
        console.tell(findings);
    }
}
