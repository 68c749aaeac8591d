package ohmprint.app;

import java.io.IOException;

/** Measures a session: from a folder of takes to a curve with its uncertainty. */
public final class MeasureSession {
    private MeasureSession() {}

    /**
     * Measures.
     *
     * @param request what and how
     * @param progress hears how far it has come
     * @throws BadInputException if manifest, files or request cannot be worked with
     * @throws IOException if the results cannot be written
     */
    public static MeasureOutcome run(MeasureRequest request, Progress progress) throws BadInputException, IOException {
        throw new BadInputException("not yet: " + request + progress);
    }
}
