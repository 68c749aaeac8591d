package ohmprint.cli;

import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.util.Collection;
import java.util.List;
import ohmprint.text.Spelling;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** What a user is told whose command did not come to an end: a line that names the thing and the next step. */
final class ErrorText {

    private ErrorText() {}

    /** What the parser objects to. */
    static String ofUsage(ParameterException e) {
        String command = e.getCommandLine().getCommandSpec().qualifiedName();
        return TerminalText.oneLine(objection(e) + "; see " + command + " --help");
    }

    private static String objection(ParameterException e) {
        if (e instanceof UnmatchedArgumentException unmatched) {
            return unmatched(unmatched);
        }
        if (e instanceof MissingParameterException missing
                && !missing.getMissing().isEmpty()) {
            ArgSpec first = missing.getMissing().get(0);
            return first instanceof OptionSpec option
                    ? option.longestName() + " needs a value, " + option.longestName() + " " + option.paramLabel()
                    : first.paramLabel() + " is missing";
        }
        if (e instanceof OverwrittenOptionException twice && twice.getOverwritten() instanceof OptionSpec option) {
            return option.longestName() + " is given twice; give it once";
        }
        return String.valueOf(e.getMessage());
    }

    private static String unmatched(UnmatchedArgumentException e) {
        String given = e.getUnmatched().get(0);
        var spec = e.getCommandLine().getCommandSpec();
        if (e.isUnknownOption()) {
            String name = given.contains("=") ? given.substring(0, given.indexOf('=')) : given;
            List<String> known =
                    spec.options().stream().map(OptionSpec::longestName).toList();
            return "unknown option " + name + meant(name, known);
        }
        if (spec.subcommands().isEmpty()) {
            return given + " is one argument too many";
        }
        List<String> commands = List.copyOf(spec.subcommands().keySet());
        return "unknown command " + given + meant(given, commands) + "; commands are "
                + TerminalText.list(commands, "and");
    }

    /** The known name nearest to a mistyped one by edits, unless more than a third of it would have to change. */
    private static String meant(String typed, Collection<String> known) {
        String best = null;
        int least = Integer.MAX_VALUE;
        for (String name : known) {
            int edits = name.startsWith(typed) && typed.length() > 3 ? 1 : Spelling.edits(typed, name);
            int letters = name.startsWith("--") ? name.length() - 2 : name.length();
            if (edits < least && edits <= Math.max(1, letters / 3 + 1)) {
                least = edits;
                best = name;
            }
        }
        return best == null ? "" : " (did you mean " + best + "?)";
    }

    /** A file that could not be read or written. */
    static String ofFile(Exception e) {
        if (e instanceof FileSystemException f && f.getFile() != null) {
            String reason = f.getReason();
            String why = e instanceof AccessDeniedException
                    ? "permission denied; change its permissions or choose another folder with --out"
                    : e instanceof NoSuchFileException
                            ? "there is no such file or folder; correct the path"
                            : (reason == null ? e.getClass().getSimpleName() : reason)
                                    + "; check the path and the space left on the disk";
            return TerminalText.oneLine(f.getFile() + ": " + why);
        }
        String message = e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
        return TerminalText.oneLine("a file could not be read or written: " + message
                + "; check the disk and the permissions of the folder");
    }

    /** A fault of the program, in two lines: what it was, and how to report it. */
    static String ofProgram(Throwable e, String version) {
        if (e instanceof OutOfMemoryError) {
            return "memory ran out; give Java more, for example OHMPRINT_JAVA_OPTS=-Xmx4g scripts/ohmprint ...";
        }
        return TerminalText.oneLine("internal error: " + e + place(e)) + System.lineSeparator()
                + "This is a fault of ohmprint " + version
                + ", not of your takes. Please report it with the line above and"
                + " the command you gave; with OHMPRINT_DEBUG=1 it tells more.";
    }

    private static String place(Throwable e) {
        for (StackTraceElement frame : e.getStackTrace()) {
            if (frame.getClassName().startsWith("ohmprint.")) {
                return " (" + frame.getFileName() + ":" + frame.getLineNumber() + ")";
            }
        }
        return "";
    }
}
