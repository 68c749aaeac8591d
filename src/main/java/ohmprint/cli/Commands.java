package ohmprint.cli;

import java.util.List;
import ohmprint.app.Demo;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.handover.HandOver;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.Recording;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    private Commands() {}

    /** All of them. The lambdas keep classes of sound from being loaded before they are needed. */
    static List<Command> all() {
        return List.of(
                new DemoCommand(Demo::run),
                new PlanCommand(PlanLoads::run),
                new MeasureCommand(MeasureSession::run),
                new CheckCommand(CheckCurve::run),
                new MatchCommand(),
                new RecordCommand((request, listener) -> Recording.open(request, listener), StandardStreams::in),
                new DevicesCommand((words, progress) -> DeviceList.of(words, progress)),
                new LibraryCommand(),
                new ReportCommand((request, progress) -> HandOver.run(request, progress)));
    }
}
