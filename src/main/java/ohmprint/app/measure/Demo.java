package ohmprint.app.measure;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;

/** A complete measurement that needs no hardware: a session that comes with the program, measured before one's eyes. */
public final class Demo {
    private static final List<String> FILES =
            List.of("session.yaml", "stimulus.wav", "take-1.wav", "take-2.wav", "take-3.wav");
    private static final String BUNDLE = "/ohmprint/demo/";

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
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new BadInputException("--out " + folder + " is a file; name a folder");
        }
        if (Files.isDirectory(folder)) {
            try (var entries = Files.list(folder)) {
                if (entries.findAny().isPresent()) {
                    throw new BadInputException(
                            "--out " + folder + " is not empty; name a new folder, so that nothing is lost");
                }
            }
        }
        progress.at("unpacking the session", 0);
        Path session = Files.createDirectories(folder.resolve("session"));
        unpack(session);
        MeasureRequest all = MeasureRequest.of(session);
        return MeasureSession.run(
                new MeasureRequest(session, folder.resolve("result"), null, null, all.fromHz(), all.toHz(), false),
                progress);
    }

    /**
     * Unpacks the bundled session.
     *
     * @param folder a folder without any of its files
     * @throws IOException if it cannot be written
     */
    public static void unpack(Path folder) throws IOException {
        for (String file : FILES) {
            try (InputStream in = Demo.class.getResourceAsStream(BUNDLE + file)) {
                if (in == null) {
                    throw new IllegalStateException("the program does not hold its demo file " + file);
                }
                Files.copy(in, folder.resolve(file));
            }
        }
    }
}
