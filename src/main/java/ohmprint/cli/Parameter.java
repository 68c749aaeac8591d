package ohmprint.cli;

import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * An option or an argument of a command, typed once: how it is written, what its help says, what its text means. Grammar,
 * help, objections and the value that the command works with come from it.
 *
 * @param name the option with its dashes, or what the help calls the argument
 * @param label what stands for its value in the help; empty for an option without one
 * @param help a sentence
 * @param format what the text means
 * @param place of an argument, counted from 0; negative for an option
 * @param arity how many values it has: 0, 1, 0..* or 1..*
 * @param usual its value when it is not given, or null
 * @param wanted what to do when it is missing, or null where it may be
 */
record Parameter<T>(
        String name,
        String label,
        String help,
        ValueFormat<T> format,
        int place,
        String arity,
        @Nullable T usual,
        @Nullable String wanted) {
    /** {@code --json}, as every command spells it. */
    static final Parameter<String> JSON =
            flag("--json", "Print one JSON object to standard output instead of the summary.");

    /** An option with a text, given at most once. */
    static Parameter<String> option(String name, String label, String help) {
        return option(name, label, help, ValueFormat.TEXT);
    }

    /** An option with a value, given at most once. */
    static <T> Parameter<T> option(String name, String label, String help, ValueFormat<T> format) {
        return new Parameter<>(name, label, help, format, -1, "1", null, null);
    }

    /** An option without a value. */
    static Parameter<String> flag(String name, String help) {
        return new Parameter<>(name, "", help, ValueFormat.TEXT, -1, "0", null, null);
    }

    /** A required argument that is any text. */
    static Parameter<String> argument(int place, String label, String help) {
        return argument(place, label, help, ValueFormat.TEXT);
    }

    /** A required argument. */
    static <T> Parameter<T> argument(int place, String label, String help, ValueFormat<T> format) {
        return new Parameter<>(label, label, help, format, place, "1", null, null);
    }

    /** The argument at a place and all behind it, at least one when required; read with {@link Options#all}. */
    static Parameter<String> arguments(int place, String label, boolean required, String help) {
        return new Parameter<>(label, label, help, ValueFormat.TEXT, place, required ? "1..*" : "0..*", null, null);
    }

    /** The same option, which may be given several times; read with {@link Options#all}. */
    Parameter<T> repeatable() {
        return new Parameter<>(name, label, help, format, place, "0..*", usual, wanted);
    }

    /** The same, which must be given. */
    Parameter<T> required(String whatToDo) {
        return new Parameter<>(name, label, help, format, place, arity, usual, whatToDo);
    }

    /** The same with a value for when it is not given, which the help tells. */
    Parameter<T> usually(T value) {
        return usually(value, "");
    }

    /** The same with more words about that value. */
    Parameter<T> usually(T value, String more) {
        String text = value instanceof Double number ? Numbers.exact(number) : String.valueOf(value);
        String told = help.substring(0, help.length() - 1) + " (default: " + text + more + ").";
        return new Parameter<>(name, label, told, format, place, arity, value, wanted);
    }

    /** The objection that it is missing. */
    UsageException missing() {
        return new UsageException(name + " is missing; " + wanted);
    }

    /**
     * Declares it to the parser. Values are taken as text, so that objections are in our words, and without annotations,
     * because reading those takes time at every start.
     */
    void addTo(CommandSpec command) {
        boolean many = arity.endsWith("*");
        Class<?> type = many ? String[].class : String.class;
        if (place >= 0) {
            command.addPositional(PositionalParamSpec.builder()
                    .index(place + (many ? "..*" : ""))
                    .arity(arity)
                    .paramLabel(label)
                    .type(type)
                    .required(arity.startsWith("1"))
                    .description(help)
                    .build());
        } else if (label.isEmpty()) {
            command.addOption(OptionSpec.builder(name).description(help).build());
        } else {
            command.addOption(OptionSpec.builder(name)
                    .arity("1")
                    .paramLabel(label)
                    .type(type)
                    .description(help)
                    .build());
        }
    }
}
