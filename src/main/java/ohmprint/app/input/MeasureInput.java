package ohmprint.app.input;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.input.InputOutcome.ParallelInput;
import ohmprint.app.measure.DeviceUnderTest;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.app.measure.TakeFiles;
import ohmprint.estimation.ResistorCapacitorFit;
import ohmprint.session.InputSessionReader;
import ohmprint.session.Session;
import ohmprint.yaml.ManifestException;
import org.jspecify.annotations.Nullable;

/** Measures an input: from a folder of takes through series resistors to its impedance. */
public final class MeasureInput {
    private static final double PICO = 1e12;

    private MeasureInput() {}

    /**
     * Measures.
     *
     * @param request what and how; its session is the folder or manifest of an input measurement
     * @param progress hears how far it has come
     * @throws BadInputException if manifest, files or request cannot be worked with
     * @throws IOException if a file cannot be read or the results cannot be written
     */
    public static InputOutcome run(MeasureRequest request, Progress progress) throws BadInputException, IOException {
        Session session;
        try {
            session = new InputSessionReader(TakeFiles.probe()).read(request.session());
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        MeasureOutcome outcome = MeasureSession.run(session, DeviceUnderTest.INPUT, request, progress);
        ResistorCapacitorFit fit = outcome.measurement().curve().parallelWithInput()
                ? null
                : ResistorCapacitorFit.of(outcome.measurement().curve());
        return new InputOutcome(outcome, parallel(fit));
    }

    private static @Nullable ParallelInput parallel(@Nullable ResistorCapacitorFit fit) {
        return fit == null
                ? null
                : new ParallelInput(
                        fit.ohm(),
                        fit.ohmU95(),
                        PICO * fit.farad(),
                        PICO * fit.faradU95(),
                        100 * fit.largestMisfit(),
                        fit.worstHz(),
                        fit.describes());
    }
}
