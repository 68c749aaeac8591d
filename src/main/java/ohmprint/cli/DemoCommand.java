package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.MeasureOutcome;

/** {@code demo}: the session that comes with the program is measured. */
final class DemoCommand extends Command {
    /** Its name. */
    static final String NAME = "demo";

    /** What it is for. */
    static final String HEADER = "A complete measurement, no hardware needed.";

    private static final String FOLDER = "ohmprint-demo";
    private static final Parameter<Path> OUT = Parameter.option(
            "--out",
            "DIR",
            "New or empty folder for session and results"
                    + " (default: ohmprint-demo here, or the next free name such as ohmprint-demo-2).",
            ValueFormat.path("the path of a folder"));

    private final UseCase<Path, MeasureOutcome> useCase;

    /** A command that unpacks and measures by {@link ohmprint.app.measure.Demo#run} or, in tests, otherwise. */
    DemoCommand(UseCase<Path, MeasureOutcome> useCase) {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Unpacks a session that comes with the program and measures it: takes and manifest go to"
                                + " DIR/session, curve and pictures to DIR/result.",
                        Usage.example("demo --out first-look") + Usage.CAUTIONS,
                        OUT,
                        Parameter.JSON));
        this.useCase = useCase;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        Path asked = given.find(OUT);
        Path folder = asked == null ? free(console.around().folder()) : asked;
        return MeasureCommand.Report.print(
                console.withProgress(progress -> useCase.run(folder, progress)), given, console);
    }

    private static Path free(Path here) {
        Path folder = here.resolve(FOLDER);
        for (int n = 2; Files.exists(folder, LinkOption.NOFOLLOW_LINKS); n++) {
            folder = here.resolve(FOLDER + "-" + n);
        }
        return folder;
    }
}
