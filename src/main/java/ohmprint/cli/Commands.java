package ohmprint.cli;

import java.util.List;
import ohmprint.app.Demo;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    private Commands() {}

    /** All of them. */
    static List<Command> all() {
        return List.of(
                new DemoCommand(Demo::run),
                new PlanCommand(PlanLoads::run),
                new MeasureCommand(MeasureSession::run),
                new LibraryCommand());
    }
}
