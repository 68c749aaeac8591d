package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.ResultFiles;

/** {@code measure}: a session becomes a curve. */
final class MeasureCommand extends Command {
    /** Its name. */
    static final String NAME = "measure";

    /** What it is for. */
    static final String HEADER = "Source impedance against frequency from a folder of takes.";

    private final UseCase<MeasureRequest, MeasureOutcome> useCase;

    /** A command that measures by {@link ohmprint.app.measure.MeasureSession#run} or, in tests, otherwise. */
    MeasureCommand(UseCase<MeasureRequest, MeasureOutcome> useCase) {
        super(
                NAME,
                HEADER,
                MeasureOptions.usage(
                        "Measures a session: magnitude and phase with their 95 %% uncertainty, as "
                                + ResultFiles.contents() + ". Results are complete or not there at all. The"
                                + " summary goes to standard output, findings about the takes to standard error.",
                        Usage.example("measure bench-ribbon-7 --bands 12 --from 30 --to 18000")
                                + MeasureOptions.EXIT_CODES
                                + Usage.CAUTIONS));
        this.useCase = useCase;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        MeasureRequest request = MeasureOptions.request(given);
        return MeasureReport.print(console.withProgress(progress -> useCase.run(request, progress)), given, console);
    }
}
