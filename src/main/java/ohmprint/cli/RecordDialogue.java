package ohmprint.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.Recording;
import ohmprint.app.record.Recording.Step;
import ohmprint.app.record.TakeReport;
import ohmprint.impedance.Finding;
import ohmprint.json.JsonObject;
import ohmprint.json.MeasurementJson;
import ohmprint.json.RecordingJson;
import ohmprint.text.Numbers;

/**
 * Leads through a recording: a person who answers, or a script, which is only told which load to fit. What is asked, said
 * and printed for programs stands here together, so that the three tell the same.
 */
final class RecordDialogue {
    private static final int ATTEMPTS = 3;

    private final Recording recording;
    private final EventPrinter events;
    private final Prompt prompt;

    RecordDialogue(Recording recording, EventPrinter events, Prompt prompt) {
        this.recording = recording;
        this.events = events;
        this.prompt = prompt;
    }

    /** Leads a person; returns the exit code. */
    int guided() throws IOException {
        if (recording.step() == Step.DONE) {
            events.say("All takes of this session are recorded.");
            events.ended(recording);
            return ExitCode.DONE;
        }
        Cautions.all().forEach(caution -> events.say("- " + caution));
        boolean going = prompt.choice("Press Enter when you have read this and done it (q stops):", "gq", 'g') == 'g';
        if (going) {
            events.planned(recording);
            recording.cautionsRead();
            going = recording.step() != Step.LEVEL || guidedLevel();
        }
        while (going && recording.step() != Step.DONE) {
            going = guidedTake();
        }
        boolean all = recording.step() == Step.DONE;
        if (!all) {
            events.say("Stopped: " + recording.takes().size() + " of "
                    + recording.plannedOhms().size() + " takes are recorded and kept.");
        }
        events.ended(recording);
        return all ? ExitCode.DONE : ExitCode.STOPPED;
    }

    private boolean guidedLevel() throws IOException {
        String question = "Level: " + EventPrinter.fit(recording.levelOhm())
                + ", turn the volume down, press Enter to play (s leaves this out, q stops):";
        char answer = prompt.choice(question, "psq", 'p');
        while (answer == 'p') {
            try {
                LevelReport report = recording.checkLevel();
                events.level(report);
                answer = report.acceptable() && report.gainChangeDb() == 0
                        ? prompt.choice("Enter goes on, p plays again, q stops:", "gpq", 'g')
                        : prompt.choice(
                                "Change the level, then Enter plays again (g goes on as it is, q stops):", "pgq", 'p');
            } catch (BadInputException e) {
                events.say(String.valueOf(e.getMessage()));
                answer = prompt.choice("Enter plays again, q stops:", "pq", 'p');
            }
        }
        if (answer != 'q') {
            recording.levelAccepted();
        }
        return answer != 'q';
    }

    private boolean guidedTake() throws IOException {
        double ohm = recording.remainingOhms().get(0);
        events.fitting(number(), takes(), ohm);
        String question = take() + EventPrinter.fit(ohm) + ", press Enter to record (q stops):";
        if (prompt.choice(question, "gq", 'g') == 'q') {
            return false;
        }
        TakeReport report;
        try {
            report = recording.recordTake();
        } catch (BadInputException e) {
            events.say(String.valueOf(e.getMessage()));
            return true;
        }
        events.taken(report);
        char verdict = report.usable()
                ? prompt.choice("Enter keeps it, r repeats it, q stops without it:", "krq", 'k')
                : prompt.choice("Enter repeats it, k keeps it all the same, q stops:", "rkq", 'r');
        judged(report, verdict == 'k');
        return verdict != 'q';
    }

    /**
     * Records without asking; whoever switches the loads is waited for. Returns the exit code.
     *
     * @param waitSeconds what to wait for when a load is to be fitted: so many seconds, or NaN for a line
     * @param levelCheck whether the level is tried before the takes
     */
    int unattended(double waitSeconds, boolean levelCheck) throws IOException, BadInputException {
        boolean good = true;
        if (recording.step() != Step.DONE) {
            Cautions.all().forEach(caution -> events.say("- " + caution));
            events.planned(recording);
            recording.cautionsRead();
            good = recording.step() != Step.LEVEL || unattendedLevel(waitSeconds, levelCheck);
        }
        while (good && recording.step() != Step.DONE) {
            good = unattendedTake(waitSeconds);
        }
        events.ended(recording);
        return good ? ExitCode.DONE : ExitCode.NO_CURVE;
    }

    private boolean unattendedLevel(double waitSeconds, boolean levelCheck) throws IOException, BadInputException {
        if (levelCheck) {
            waitFor(0, recording.levelOhm(), "Level: ", waitSeconds);
            LevelReport report = recording.checkLevel();
            events.level(report);
            if (!report.acceptable()) {
                events.say("The level cannot be used; set it and start again.");
                return false;
            }
        }
        recording.levelAccepted();
        return true;
    }

    private boolean unattendedTake(double waitSeconds) throws IOException, BadInputException {
        double ohm = recording.remainingOhms().get(0);
        for (int attempt = 1; attempt <= ATTEMPTS; attempt++) {
            waitFor(number(), ohm, take(), waitSeconds);
            TakeReport report = recording.recordTake();
            events.taken(report);
            judged(report, report.usable());
            if (report.usable()) {
                return true;
            }
        }
        events.say("Take " + number() + " could not be recorded in " + ATTEMPTS
                + " attempts; the findings above say why. Mend that and go on with: ohmprint record "
                + recording.folder());
        return false;
    }

    private void waitFor(int number, double ohm, String what, double seconds) throws IOException {
        events.fitting(number, takes(), ohm);
        if (Double.isNaN(seconds)) {
            prompt.line(what + EventPrinter.fit(ohm) + ", then send a line:");
            return;
        }
        events.say(what + EventPrinter.fit(ohm) + " within " + Numbers.exact(seconds) + " s.");
        try {
            Thread.sleep((long) (1000 * seconds));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted while waiting for a load", e);
        }
    }

    private void judged(TakeReport report, boolean keep) throws IOException {
        if (keep) {
            recording.keep();
        } else {
            events.noted("the take is put aside as " + recording.repeat());
        }
        events.judged(report.file(), keep);
    }

    private int takes() {
        return recording.plannedOhms().size();
    }

    /** Number of the take that comes next, from 1. */
    private int number() {
        return takes() - recording.remainingOhms().size() + 1;
    }

    private String take() {
        return "Take " + number() + " of " + takes() + ": ";
    }

    /**
     * Tells what happens while a session is recorded: words on standard error, and if wanted one JSON object per event on
     * standard output, each on one line. Its key {@code event} says what it is; {@code "open"} stands for no resistor, null
     * for what is not known.
     */
    static final class EventPrinter implements Recording.Listener {
        private final Console console;
        private final LevelBar bar;
        private final boolean json;

        EventPrinter(Console console, boolean json) {
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
            emit(new JsonObject().put("event", "note").put("message", message));
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
            emit(new JsonObject()
                    .put("event", "plan")
                    .put("session", recording.folder())
                    .list("loads_ohm", recording.plannedOhms(), RecordingJson::load)
                    .list("remaining_ohm", recording.remainingOhms(), RecordingJson::load));
        }

        /** A load is to be fitted. */
        void fitting(int take, int takes, double ohm) {
            emit(new JsonObject()
                    .put("event", "fit")
                    .put("take", take)
                    .put("takes", takes)
                    .put("load_ohm", RecordingJson.load(ohm)));
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
                        Double.isInfinite(predicted.medianPercent())
                                ? "?"
                                : Numbers.digits(predicted.medianPercent(), 2),
                        Double.isNaN(predicted.fromHz())
                                ? ""
                                : ", below 10 % from " + Numbers.frequency(predicted.fromHz()) + " to "
                                        + Numbers.frequency(predicted.toHz())));
            }
            emit(RecordingJson.level(new JsonObject().put("event", "level"), report, MeasurementJson::findingAlone));
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
            emit(RecordingJson.take(new JsonObject().put("event", "take"), report, MeasurementJson::findingAlone));
        }

        /** What became of a take. */
        void judged(String file, boolean kept) {
            emit(new JsonObject().put("event", kept ? "kept" : "repeat").put("file", file));
        }

        /** The end. */
        void ended(Recording recording) {
            boolean all = recording.remainingOhms().isEmpty();
            emit(new JsonObject()
                    .put("event", all ? "done" : "stopped")
                    .put("session", recording.folder())
                    .put("takes", recording.takes())
                    .list("remaining_ohm", recording.remainingOhms(), RecordingJson::load));
            if (!json) {
                console.line("session", recording.folder().toString());
                console.line("takes", recording.takes().isEmpty() ? "none" : String.join(", ", recording.takes()));
                console.line("next", "ohmprint " + (all ? "measure " : "record ") + recording.folder());
            }
        }

        /** Prints an event for a program, as soon as it happens, if that is wanted. */
        private void emit(JsonObject event) {
            if (json) {
                event.print(console.out());
                console.out().flush();
            }
        }

        private void tell(List<Finding> findings) {
            bar.clear();
            console.tell(findings);
        }
    }

    /** Questions on standard error, answers from standard input. */
    static final class Prompt {
        private final BufferedReader in;
        private final PrintWriter err;

        Prompt(BufferedReader in, PrintWriter err) {
            this.in = in;
            this.err = err;
        }

        /** Standard input has ended while an answer was wanted. */
        static final class EndedException extends IOException {
            private static final long serialVersionUID = 1;

            EndedException(String question) {
                super("standard input ended at: " + question);
            }
        }

        /** A line, without blanks around it. */
        String line(String question) throws IOException {
            err.print(question + " ");
            err.flush();
            String line = in.readLine();
            if (line == null) {
                err.println();
                throw new EndedException(question);
            }
            return line.strip();
        }

        /** What a line means, asked again until it means something. */
        <T> T read(String question, ValueFormat<T> format) throws IOException {
            while (true) {
                String answer = line(question);
                try {
                    return format.read("the answer", answer);
                } catch (UsageException e) {
                    err.println(TerminalText.oneLine(String.valueOf(e.getMessage())));
                }
            }
        }

        /** The first letter of the answer in lower case; {@code otherwise} for a mere Enter; asked again until it is known. */
        char choice(String question, String letters, char otherwise) throws IOException {
            while (true) {
                String line = line(question).toLowerCase(Locale.ROOT);
                char letter = line.isEmpty() ? otherwise : line.charAt(0);
                if (letters.indexOf(letter) >= 0) {
                    return letter;
                }
                err.println("Please answer with one of " + String.join(", ", letters.split("")) + ", or Enter.");
            }
        }
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
