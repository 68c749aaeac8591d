package ohmprint.cli;

import java.util.List;
import ohmprint.app.Demo;
import ohmprint.app.MeasureSession;
import ohmprint.app.PlanLoads;
import ohmprint.app.audition.AuditionTake;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.Recording;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    private static final List<String> NAMES = List.of(
            DemoCommand.NAME,
            PlanCommand.NAME,
            DevicesCommand.NAME,
            StimulusCommand.NAME,
            RecordCommand.NAME,
            MeasureCommand.NAME,
            InputCommand.NAME,
            CheckCommand.NAME,
            MatchCommand.NAME,
            CircuitCommand.NAME,
            AuditionCommand.NAME,
            LibraryCommand.NAME,
            ReportCommand.NAME,
            BenchCommand.NAME);

    private Commands() {}

    /** All of them. */
    static List<Command> all() {
        return NAMES.stream().map(Commands::named).toList();
    }

    /** The one that the arguments begin with, because making the others would cost time at every start; else all. */
    static List<Command> of(String... args) {
        return args.length > 0 && NAMES.contains(args[0]) ? List.of(named(args[0])) : all();
    }

    /** The lambdas keep classes of sound from being loaded before they are needed. */
    private static Command named(String name) {
        return switch (name) {
            case DemoCommand.NAME -> new DemoCommand(Demo::run);
            case PlanCommand.NAME -> new PlanCommand((request, progress) -> PlanLoads.run(request));
            case DevicesCommand.NAME ->
                new DevicesCommand((words, progress) -> DeviceList.of(words.orElse(null), progress));
            case StimulusCommand.NAME -> new StimulusCommand();
            case RecordCommand.NAME ->
                new RecordCommand((request, listener) -> Recording.open(request, listener), StandardStreams::in);
            case MeasureCommand.NAME -> new MeasureCommand(MeasureSession::run);
            case InputCommand.NAME -> new InputCommand();
            case CheckCommand.NAME -> new CheckCommand();
            case MatchCommand.NAME -> new MatchCommand();
            case CircuitCommand.NAME -> new CircuitCommand();
            case AuditionCommand.NAME -> new AuditionCommand(AuditionTake::run);
            case LibraryCommand.NAME -> new LibraryCommand();
            case ReportCommand.NAME -> new ReportCommand();
            case BenchCommand.NAME -> new BenchCommand();
            default -> throw new IllegalArgumentException("there is no command " + name);
        };
    }
}
