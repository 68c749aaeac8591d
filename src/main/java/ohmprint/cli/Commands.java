package ohmprint.cli;

import java.util.List;
import ohmprint.app.Demo;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;
import ohmprint.app.audition.AuditionTake;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.circuit.FitCircuit;
import ohmprint.app.handover.HandOver;
import ohmprint.app.input.MeasureInput;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.Recording;
import ohmprint.app.stimulus.WriteStimulus;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    private Commands() {}

    /** All of them. The lambdas keep classes of sound from being loaded before they are needed. */
    static List<Command> all() {
        return List.of(
                new DemoCommand(Demo::run),
                new PlanCommand(PlanLoads::run),
                new DevicesCommand((words, progress) -> DeviceList.of(words, progress)),
                new StimulusCommand(WriteStimulus::run),
                new RecordCommand((request, listener) -> Recording.open(request, listener), StandardStreams::in),
                new MeasureCommand(MeasureSession::run),
                new InputCommand(MeasureInput::run),
                new CheckCommand(CheckCurve::run),
                new MatchCommand(),
                new CircuitCommand(FitCircuit::run),
                new AuditionCommand(AuditionTake::run),
                new LibraryCommand(),
                new ReportCommand((request, progress) -> HandOver.run(request, progress)),
                new BenchCommand());
    }
}
