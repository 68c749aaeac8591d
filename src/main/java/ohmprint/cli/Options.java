package ohmprint.cli;

import java.util.ArrayList;
import java.util.List;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** The values that one call gives to the parameters of its command. */
record Options(ParseResult given) {
    /** True when it is there. */
    boolean has(Parameter<?> parameter) {
        return parameter.place() < 0
                ? given.hasMatchedOption(parameter.name())
                : given.hasMatchedPositional(parameter.place());
    }

    /** Its value, or null when it is not there. */
    <T> @Nullable T find(Parameter<T> parameter) throws UsageException {
        return has(parameter) ? parameter.format().read(parameter.name(), text(parameter)) : null;
    }

    /** Its value, else the usual one; without that it has to be there. */
    <T> T get(Parameter<T> parameter) throws UsageException {
        T value = find(parameter);
        T found = value == null ? parameter.usual() : value;
        if (found == null) {
            throw parameter.missing();
        }
        return found;
    }

    /** Its value, else another one. */
    <T> T or(Parameter<T> parameter, T otherwise) throws UsageException {
        T value = find(parameter);
        return value == null ? otherwise : value;
    }

    /** The values of one that may be given several times. */
    <T> List<T> all(Parameter<T> parameter) throws UsageException {
        List<T> out = new ArrayList<>();
        String[] texts = parameter.place() < 0
                ? given.matchedOptionValue(parameter.name(), new String[0])
                : given.matchedPositionalValue(parameter.place(), new String[0]);
        for (String text : texts) {
            out.add(parameter.format().read(parameter.name(), text));
        }
        return out;
    }

    /** Objects to {@code --from} that is not below {@code --to}. */
    static void requireOrder(double fromHz, double toHz) throws UsageException {
        requireOrder(fromHz, "", toHz, "");
    }

    /** The same with words behind the two. */
    static void requireOrder(double fromHz, String ofFrom, double toHz, String ofTo) throws UsageException {
        if (fromHz >= toHz) {
            throw new UsageException("--from is " + Numbers.exact(fromHz) + " Hz" + ofFrom + " and --to is "
                    + Numbers.exact(toHz) + " Hz" + ofTo + "; give --from the lower frequency");
        }
    }

    private String text(Parameter<?> parameter) {
        return parameter.place() < 0
                ? given.matchedOptionValue(parameter.name(), "")
                : given.matchedPositionalValue(parameter.place(), "");
    }
}
