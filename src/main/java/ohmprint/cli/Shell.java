package ohmprint.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Objects;
import ohmprint.app.BadInputException;
import ohmprint.app.LoadPlan;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureRequest;
import ohmprint.app.Progress;
import ohmprint.curve.Finding;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;

/** Runs one command: parse, call, print, exit code. */
final class Shell {
    private static final String DEMO_FOLDER = "ohmprint-demo";

    private final UseCases useCases;
    private final Surroundings around;
    private final PrintWriter out;
    private final PrintWriter err;

    Shell(UseCases useCases, Surroundings around, PrintWriter out, PrintWriter err) {
        this.useCases = useCases;
        this.around = around;
        this.out = out;
        this.err = err;
    }

    /** Runs the command and returns its exit code; throws nothing. */
    int run(String[] args) {
        int code = guarded(args);
        if (out.checkError() && code == ExitCode.DONE) {
            complain("the result could not be printed on standard output; check where it is redirected to");
            code = ExitCode.BAD_INPUT;
        }
        err.flush();
        return code;
    }

    private int guarded(String[] args) {
        try {
            return command(args);
        } catch (ParameterException e) {
            complain(UsageErrors.line(e));
        } catch (UsageException | BadInputException e) {
            complain(String.valueOf(e.getMessage()));
        } catch (IOException e) {
            complain(Failure.ofFile(e));
        } catch (UncheckedIOException e) {
            complain(Failure.ofFile(Objects.requireNonNullElse(e.getCause(), e)));
        } catch (RuntimeException | Error e) {
            complain(Failure.ofProgram(e, around.version()));
            if (around.debug()) {
                e.printStackTrace(err);
            }
            return ExitCode.BUG;
        }
        return ExitCode.BAD_INPUT;
    }

    private int command(String[] args) throws BadInputException, UsageException, IOException {
        CommandLine top = Grammar.create();
        ParseResult given = top.parseArgs(args);
        ParseResult command = given.hasSubcommand() ? given.subcommand() : given;
        if (given.isUsageHelpRequested() || command.isUsageHelpRequested()) {
            CommandLine asked =
                    given.isUsageHelpRequested() ? top : command.commandSpec().commandLine();
            asked.usage(out, Ansi.OFF);
            return ExitCode.DONE;
        }
        if (given.isVersionHelpRequested()) {
            out.println("ohmprint " + around.version());
            return ExitCode.DONE;
        }
        return switch (command.commandSpec().name()) {
            case Grammar.DEMO -> demo(command);
            case Grammar.MEASURE -> measure(command);
            case Grammar.PLAN -> plan(command);
            default -> throw new UsageException("a command is missing, demo, measure or plan; see ohmprint --help");
        };
    }

    private int measure(ParseResult given) throws BadInputException, UsageException, IOException {
        MeasureRequest request = MeasureOptions.request(given);
        return report(given, progress -> useCases.measure().run(request, progress));
    }

    private int plan(ParseResult given) throws BadInputException, UsageException, IOException {
        LoadPlan plan = useCases.plan().run(PlanOptions.request(given));
        plan.sets().stream().flatMap(set -> set.findings().stream()).distinct().forEach(this::tell);
        err.flush();
        if (given.hasMatchedOption("--json")) {
            PlanJson.print(plan, out);
        } else {
            PlanSummary.print(plan, out);
        }
        return ExitCode.DONE;
    }

    private int demo(ParseResult given) throws BadInputException, UsageException, IOException {
        Path asked = MeasureOptions.folder(given);
        Path folder = asked == null ? freeFolder() : asked;
        return report(given, progress -> useCases.demo().run(folder, progress));
    }

    private Path freeFolder() {
        Path folder = around.folder().resolve(DEMO_FOLDER);
        for (int n = 2; Files.exists(folder, LinkOption.NOFOLLOW_LINKS); n++) {
            folder = around.folder().resolve(DEMO_FOLDER + "-" + n);
        }
        return folder;
    }

    private int report(ParseResult given, Work work) throws BadInputException, IOException {
        MeasureOutcome outcome = withProgress(work);
        outcome.measurement().findings().forEach(this::tell);
        err.flush();
        if (given.hasMatchedOption("--json")) {
            OutcomeJson.print(outcome, out);
        } else {
            Summary.print(outcome, out);
        }
        return outcome.folder() == null ? ExitCode.NO_CURVE : ExitCode.DONE;
    }

    private void tell(Finding finding) {
        String take = finding.take() == null ? "" : finding.take() + ": ";
        err.println(OneLine.of(finding.code().word() + ": " + take + finding.message()));
    }

    private MeasureOutcome withProgress(Work work) throws BadInputException, IOException {
        if (!around.progressWanted()) {
            return work.run(Progress.SILENT);
        }
        try (SlowWorkBar bar = SlowWorkBar.start(err, around.columns())) {
            return work.run(bar);
        }
    }

    /** Messages may hold a line for each thing that is wrong; each is told on its own. */
    private void complain(String message) {
        message.lines().forEach(line -> err.println("ohmprint: " + OneLine.of(line)));
    }

    /** What is done between reading the options and printing the outcome. */
    @FunctionalInterface
    private interface Work {
        MeasureOutcome run(Progress progress) throws BadInputException, IOException;
    }
}
