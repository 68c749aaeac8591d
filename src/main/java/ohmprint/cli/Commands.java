package ohmprint.cli;

import java.util.List;
import ohmprint.app.Demo;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;
import ohmprint.app.input.MeasureInput;
import ohmprint.app.stimulus.WriteStimulus;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    private Commands() {}

    /** All of them. */
    static List<Command> all() {
        return List.of(
                new DemoCommand(Demo::run),
                new PlanCommand(PlanLoads::run),
                new StimulusCommand(WriteStimulus::run),
                new MeasureCommand(MeasureSession::run),
                new InputCommand(MeasureInput::run));
    }
}
