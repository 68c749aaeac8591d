package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.Recording;
import ohmprint.app.record.Step;
import ohmprint.app.record.TakeReport;

/** Records without asking; whoever switches the loads is waited for. */
final class UnattendedTakes {
    private static final int ATTEMPTS = 3;

    private final Recording recording;
    private final RecordEvents events;
    private final Answers answers;
    private final double waitSeconds;
    private final boolean levelCheck;

    /**
     * An unattended recording.
     *
     * @param waitSeconds what to wait for when a load is to be fitted: so many seconds, or NaN for a line
     */
    UnattendedTakes(Recording recording, RecordEvents events, Answers answers, double waitSeconds, boolean levelCheck) {
        this.recording = recording;
        this.events = events;
        this.answers = answers;
        this.waitSeconds = waitSeconds;
        this.levelCheck = levelCheck;
    }

    /** Returns the exit code. */
    int run() throws IOException, BadInputException {
        boolean good = true;
        if (recording.step() != Step.DONE) {
            Cautions.all().forEach(caution -> events.say("- " + caution));
            events.planned(recording);
            recording.cautionsRead();
            good = recording.step() != Step.LEVEL || level();
        }
        while (good && recording.step() != Step.DONE) {
            good = take();
        }
        events.ended(recording);
        return good ? ExitCode.DONE : ExitCode.NO_CURVE;
    }

    private boolean level() throws IOException, BadInputException {
        if (levelCheck) {
            fit(0, recording.levelOhm(), "Level: ");
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

    private boolean take() throws IOException, BadInputException {
        int takes = recording.plannedOhms().size();
        double ohm = recording.remainingOhms().get(0);
        int number = takes - recording.remainingOhms().size() + 1;
        for (int attempt = 1; attempt <= ATTEMPTS; attempt++) {
            fit(number, ohm, "Take " + number + " of " + takes + ": ");
            TakeReport report = recording.recordTake();
            events.taken(report);
            if (report.usable()) {
                recording.keep();
                events.judged(report.file(), true);
                return true;
            }
            events.noted("the take is put aside as " + recording.repeat());
            events.judged(report.file(), false);
        }
        events.say("Take " + number + " could not be recorded in " + ATTEMPTS
                + " attempts; the findings above say why. Mend that and go on with: ohmprint record "
                + recording.folder());
        return false;
    }

    private void fit(int number, double ohm, String what) throws IOException {
        events.fitting(number, recording.plannedOhms().size(), ohm);
        if (Double.isNaN(waitSeconds)) {
            answers.line(what + RecordEvents.fit(ohm) + ", then send a line:");
            return;
        }
        events.say(what + RecordEvents.fit(ohm) + " within " + Options.plain(waitSeconds) + " s.");
        try {
            Thread.sleep((long) (1000 * waitSeconds));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted while waiting for a load", e);
        }
    }
}
