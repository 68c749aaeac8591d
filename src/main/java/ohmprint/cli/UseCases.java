package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.Demo;
import ohmprint.app.LoadPlan;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureRequest;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;
import ohmprint.app.PlanRequest;
import ohmprint.app.Progress;

/**
 * What the commands call.
 *
 * @param measure behind {@code measure}
 * @param demo behind {@code demo}
 * @param plan behind {@code plan}
 */
record UseCases(Measuring measure, Showing demo, Planning plan) {
    /** Those of the program. */
    static final UseCases REAL = new UseCases(MeasureSession::run, Demo::run, PlanLoads::run);

    /** Measures a session. */
    @FunctionalInterface
    interface Measuring {
        /** See {@link MeasureSession#run}. */
        MeasureOutcome run(MeasureRequest request, Progress progress) throws BadInputException, IOException;
    }

    /** Measures the session that comes with the program. */
    @FunctionalInterface
    interface Showing {
        /** See {@link Demo#run}. */
        MeasureOutcome run(Path folder, Progress progress) throws BadInputException, IOException;
    }

    /** Plans a session. */
    @FunctionalInterface
    interface Planning {
        /** See {@link PlanLoads#run}. */
        LoadPlan run(PlanRequest request) throws BadInputException, IOException;
    }
}
