package ohmprint.app.workspace;

import java.io.IOException;
import java.util.List;
import java.util.concurrent.Executor;
import java.util.concurrent.locks.ReentrantLock;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;

/** Measures the session of a desk, one measurement at a time, and tells how far it is and what came out. */
final class Measuring {
    private final Desk desk;
    private final Places places;
    private final Curves curves;
    private final Executor later;
    private final ReentrantLock one = new ReentrantLock();

    /**
     * For a desk.
     *
     * @param later does what nobody waits for
     */
    Measuring(Desk desk, Places places, Curves curves, Executor later) {
        this.desk = desk;
        this.places = places;
        this.curves = curves;
        this.later = later;
    }

    /**
     * Measures the session into its folder {@code result}; one measurement at a time.
     *
     * @throws BadInputException if manifest, files or request cannot be worked with
     */
    Measured measure(MeasureForm form) throws BadInputException, IOException {
        places.refuseLinks(desk.folder());
        one.lock();
        try {
            Progress progress = (what, share) -> desk.tell("measuring", new DeskEvent.Measuring(share, what));
            MeasureOutcome outcome = MeasureSession.run(form.request(desk.folder()), progress);
            List<FindingView> findings = FindingView.of(outcome.measurement().findings());
            String verdict = outcome.measurement().usability().word();
            if (outcome.folder() == null) {
                desk.tell("measuring", new DeskEvent.Measuring(1, "done"));
                return new Measured(null, verdict, findings);
            }
            desk.changed();
            CurveView curve = curves.view(Curves.ofSession(desk.name()));
            desk.tell("curve", curve);
            return new Measured(curve, verdict, findings);
        } finally {
            one.unlock();
        }
    }

    /** Measures when there is time; what comes of it is told to all who listen. */
    void measureSoon() {
        later.execute(() -> {
            try {
                Measured measured = measure(MeasureForm.USUAL);
                if (measured.curve() == null) {
                    desk.note("the takes do not support a curve yet: "
                            + measured.findings().stream()
                                    .map(FindingView::message)
                                    .findFirst()
                                    .orElse("see their findings"));
                }
            } catch (BadInputException | IOException e) {
                desk.note("the session cannot be measured yet: " + e.getMessage());
            }
        });
    }
}
