package ohmprint.cli;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.audition.AuditionTake;
import ohmprint.app.measure.Demo;
import ohmprint.app.measure.MeasureSession;
import ohmprint.app.plan.PlanLoads;
import ohmprint.app.record.DeviceList;
import ohmprint.app.record.Recording;

/** The commands of the program, in the order in which its help lists them. */
final class Commands {
    /** Names and headers are constants, so that no class of a command is loaded for them. */
    private static final List<Title> TITLES = List.of(
            new Title(DemoCommand.NAME, DemoCommand.HEADER),
            new Title(PlanCommand.NAME, PlanCommand.HEADER),
            new Title(DevicesCommand.NAME, DevicesCommand.HEADER),
            new Title(StimulusCommand.NAME, StimulusCommand.HEADER),
            new Title(RecordCommand.NAME, RecordCommand.HEADER),
            new Title(MeasureCommand.NAME, MeasureCommand.HEADER),
            new Title(InputCommand.NAME, InputCommand.HEADER),
            new Title(CheckCommand.NAME, CheckCommand.HEADER),
            new Title(MatchCommand.NAME, MatchCommand.HEADER),
            new Title(CircuitCommand.NAME, CircuitCommand.HEADER),
            new Title(AuditionCommand.NAME, AuditionCommand.HEADER),
            new Title(LibraryCommand.NAME, LibraryCommand.HEADER),
            new Title(ReportCommand.NAME, ReportCommand.HEADER),
            new Title(BenchCommand.NAME, BenchCommand.HEADER));

    private Commands() {}

    /** All of them. */
    static List<Command> all() {
        return TITLES.stream().map(title -> named(title.name())).toList();
    }

    /**
     * Those that a call can mean: the one that the arguments begin with alone; else all, of which only those whose word is
     * among the arguments are more than a title, because making them would cost time.
     */
    static List<Command> of(String... args) {
        List<String> words = List.of(args);
        List<Command> out = new ArrayList<>();
        for (Title title : TITLES) {
            if (!words.isEmpty() && words.get(0).equals(title.name())) {
                return List.of(named(title.name()));
            }
            out.add(words.contains(title.name()) ? named(title.name()) : title);
        }
        return out;
    }

    /** What the help of the program tells of a command. */
    private static final class Title extends Command {
        Title(String name, String header) {
            super(name, header, new Usage("", ""));
        }

        @Override
        int run(Options given, Console console) {
            throw new IllegalStateException("a title cannot be run");
        }
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
