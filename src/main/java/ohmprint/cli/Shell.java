package ohmprint.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import ohmprint.app.BadInputException;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;

/** Runs one command: parse, call, print, exit code. */
final class Shell {
    private final List<Command> commands;
    private final Console console;

    Shell(List<Command> commands, Console console) {
        this.commands = commands;
        this.console = console;
    }

    /** Runs the command and returns its exit code; throws nothing. */
    int run(String[] args) {
        int code = guarded(args);
        if (console.out().checkError() && code == ExitCode.DONE) {
            complain("the result could not be printed on standard output; check where it is redirected to");
            code = ExitCode.BAD_INPUT;
        }
        console.err().flush();
        return code;
    }

    private int guarded(String[] args) {
        try {
            return command(args);
        } catch (ParameterException e) {
            complain(ErrorText.ofUsage(e));
        } catch (UsageException | BadInputException e) {
            complain(String.valueOf(e.getMessage()));
        } catch (IOException e) {
            complain(ErrorText.ofFile(e));
        } catch (UncheckedIOException e) {
            complain(ErrorText.ofFile(Objects.requireNonNullElse(e.getCause(), e)));
        } catch (RuntimeException | Error e) {
            complain(ErrorText.ofProgram(e, console.around().version()));
            if (console.around().debug()) {
                e.printStackTrace(console.err());
            }
            return ExitCode.BUG;
        }
        return ExitCode.BAD_INPUT;
    }

    private int command(String[] args) throws BadInputException, UsageException, IOException {
        CommandLine top = Grammar.of(commands, List.of(args));
        ParseResult given = top.parseArgs(args);
        ParseResult called = given;
        Command command = null;
        List<Command> choice = commands;
        while (called.hasSubcommand() && !called.isUsageHelpRequested()) {
            called = called.subcommand();
            command = named(choice, called.commandSpec().name());
            choice = command.below();
        }
        if (called.isUsageHelpRequested()) {
            called.commandSpec().commandLine().usage(console.out(), Ansi.OFF);
            return ExitCode.DONE;
        }
        if (given.isVersionHelpRequested()) {
            console.out().println("ohmprint " + console.around().version());
            return ExitCode.DONE;
        }
        if (command == null || !choice.isEmpty()) {
            throw new UsageException("a command is missing, "
                    + TerminalText.list(choice.stream().map(Command::name).toList(), "or") + "; see "
                    + called.commandSpec().qualifiedName() + " --help");
        }
        return command.run(new Options(called), console);
    }

    private static Command named(List<Command> commands, String name) {
        return commands.stream().filter(c -> c.name().equals(name)).findFirst().orElseThrow();
    }

    /** Messages may hold a line for each thing that is wrong; each is told on its own. */
    private void complain(String message) {
        message.lines().forEach(line -> console.err().println("ohmprint: " + TerminalText.oneLine(line)));
    }
}
