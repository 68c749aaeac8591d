package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.Recording;
import ohmprint.app.record.Recording.Step;
import ohmprint.app.record.TakeReport;
import ohmprint.text.Numbers;

/** Leads through a recording: a person who answers, or a script, which is only told which load to fit. */
final class RecordDialogue {
    private static final int ATTEMPTS = 3;

    private final Recording recording;
    private final RecordEvents events;
    private final Answers answers;

    RecordDialogue(Recording recording, RecordEvents events, Answers answers) {
        this.recording = recording;
        this.events = events;
        this.answers = answers;
    }

    /** Leads a person; returns the exit code. */
    int guided() throws IOException {
        if (recording.step() == Step.DONE) {
            events.say("All takes of this session are recorded.");
            events.ended(recording);
            return ExitCode.DONE;
        }
        Cautions.all().forEach(caution -> events.say("- " + caution));
        boolean going = answers.choice("Press Enter when you have read this and done it (q stops):", "gq", 'g') == 'g';
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
        String question = "Level: " + RecordEvents.fit(recording.levelOhm())
                + ", turn the volume down, press Enter to play (s leaves this out, q stops):";
        char answer = answers.choice(question, "psq", 'p');
        while (answer == 'p') {
            try {
                LevelReport report = recording.checkLevel();
                events.level(report);
                answer = report.acceptable() && report.gainChangeDb() == 0
                        ? answers.choice("Enter goes on, p plays again, q stops:", "gpq", 'g')
                        : answers.choice(
                                "Change the level, then Enter plays again (g goes on as it is, q stops):", "pgq", 'p');
            } catch (BadInputException e) {
                events.say(String.valueOf(e.getMessage()));
                answer = answers.choice("Enter plays again, q stops:", "pq", 'p');
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
        String question = take() + RecordEvents.fit(ohm) + ", press Enter to record (q stops):";
        if (answers.choice(question, "gq", 'g') == 'q') {
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
                ? answers.choice("Enter keeps it, r repeats it, q stops without it:", "krq", 'k')
                : answers.choice("Enter repeats it, k keeps it all the same, q stops:", "rkq", 'r');
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
            answers.line(what + RecordEvents.fit(ohm) + ", then send a line:");
            return;
        }
        events.say(what + RecordEvents.fit(ohm) + " within " + Numbers.exact(seconds) + " s.");
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
}
