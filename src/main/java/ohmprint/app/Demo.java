package ohmprint.app;

import java.io.IOException;
import java.nio.file.Path;

/** A complete measurement that needs no hardware: a session that comes with the program, measured before one's eyes. */
public final class Demo {
    private Demo() {}

    /**
     * Unpacks the bundled session into {@code folder/session} and measures it into {@code folder/result}.
     *
     * @param folder a folder that does not exist yet or is empty
     * @param progress hears how far it has come
     * @throws BadInputException if the folder holds something else
     * @throws IOException if it cannot be written
     */
    public static MeasureOutcome run(Path folder, Progress progress) throws BadInputException, IOException {
        throw new BadInputException("not yet: " + folder + progress);
    }
}
