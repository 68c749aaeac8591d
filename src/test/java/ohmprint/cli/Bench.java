package ohmprint.cli;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.plan.PlanLoads;
import ohmprint.app.plan.PlanRequest;
import ohmprint.impedance.Measurement;

/** A command line whose use cases answer as told and keep what they were asked. */
final class Bench {
    static final List<String> FILES = List.of("curve.csv", "curve.json", "curve.s1p", "curve.svg", "curve.png");

    final Path folder;
    final List<Command> commands;
    private final Command.UseCase<MeasureRequest, MeasureOutcome> measure;
    MeasureRequest asked;
    Path demoFolder;
    PlanRequest planned;
    String stdout = "";
    String stderr = "";

    private Bench(Path folder, Command.UseCase<MeasureRequest, MeasureOutcome> measure) {
        this.folder = folder;
        this.measure = measure;
        this.commands = List.of(
                new DemoCommand((at, progress) -> {
                    demoFolder = at;
                    return measure.run(MeasureRequest.of(at), progress);
                }),
                new PlanCommand((request, progress) -> {
                    planned = request;
                    return PlanLoads.run(request);
                }),
                new MeasureCommand((request, progress) -> {
                    asked = request;
                    return measure.run(request, progress);
                }));
    }

    /** Measuring does what is given. */
    static Bench with(Command.UseCase<MeasureRequest, MeasureOutcome> measure) {
        return new Bench(Path.of(""), measure);
    }

    /** The same in another current folder. */
    Bench in(Path other) {
        return new Bench(other, measure);
    }

    /** Every measurement comes out as given and is written. */
    static Bench written(Measurement measurement) {
        return with((request, progress) -> new MeasureOutcome(
                measurement, List.of("The loads dominate; measure them to 0.1 %."), Path.of("here/result"), FILES));
    }

    /** Every measurement comes out as given and nothing is written. */
    static Bench refused(Measurement measurement) {
        return with((request, progress) -> new MeasureOutcome(measurement, List.of(), null, List.of()));
    }

    /** Runs a command; returns the exit code and keeps what was printed. */
    int run(String... args) {
        return run(false, args);
    }

    /** The same with {@code OHMPRINT_DEBUG=1} or without. */
    int run(boolean debug, String... args) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Environment around = new Environment(folder, false, 80, debug, "0.0.7");
        int code = new Shell(commands, new Console(around, new PrintWriter(out), new PrintWriter(err))).run(args);
        stdout = out.toString();
        stderr = err.toString();
        return code;
    }
}
