package ohmprint.cli;

import java.util.List;
import ohmprint.app.Demo;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;
import ohmprint.app.audition.AuditionTake;
import ohmprint.app.circuit.FitCircuit;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    private Commands() {}

    /** All of them. */
    static List<Command> all() {
        return List.of(
                new DemoCommand(Demo::run),
                new PlanCommand(PlanLoads::run),
                new MeasureCommand(MeasureSession::run),
                new CircuitCommand(FitCircuit::run),
                new AuditionCommand(AuditionTake::run));
    }
}
