package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.Recording;
import ohmprint.app.record.Step;
import ohmprint.app.record.TakeReport;

/** Leads a person at the bench through a recording. */
final class GuidedTakes {
    private final Recording recording;
    private final RecordEvents events;
    private final Answers answers;

    GuidedTakes(Recording recording, RecordEvents events, Answers answers) {
        this.recording = recording;
        this.events = events;
        this.answers = answers;
    }

    /** Returns the exit code. */
    int run() throws IOException {
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
            going = recording.step() != Step.LEVEL || level();
        }
        while (going && recording.step() != Step.DONE) {
            going = take();
        }
        boolean all = recording.step() == Step.DONE;
        if (!all) {
            events.say("Stopped: " + recording.takes().size() + " of "
                    + recording.plannedOhms().size() + " takes are recorded and kept.");
        }
        events.ended(recording);
        return all ? ExitCode.DONE : ExitCode.STOPPED;
    }

    private boolean level() throws IOException {
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

    private boolean take() throws IOException {
        int takes = recording.plannedOhms().size();
        double ohm = recording.remainingOhms().get(0);
        int number = takes - recording.remainingOhms().size() + 1;
        events.fitting(number, takes, ohm);
        String question =
                "Take " + number + " of " + takes + ": " + RecordEvents.fit(ohm) + ", press Enter to record (q stops):";
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
        if (verdict == 'k') {
            recording.keep();
        } else {
            events.noted("the take is put aside as " + recording.repeat());
        }
        events.judged(report.file(), verdict == 'k');
        return verdict != 'q';
    }
}
