package ohmprint.cli;

import java.util.List;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** Turns what the parser objects to into a line that names the thing and the next step. */
final class UsageErrors {
    private UsageErrors() {}

    /** The line, without the name of the program. */
    static String line(ParameterException e) {
        String command = e.getCommandLine().getCommandSpec().qualifiedName();
        return OneLine.of(what(e) + "; see " + command + " --help");
    }

    private static String what(ParameterException e) {
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
        return "unknown command " + given + meant(given, commands) + "; commands are " + Listed.of(commands, "and");
    }

    private static String meant(String given, List<String> known) {
        return NearestName.to(given, known)
                .map(name -> " (did you mean " + name + "?)")
                .orElse("");
    }
}
