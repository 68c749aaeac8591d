package ohmprint.golden;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Arrays;
import java.util.stream.Collectors;
import ohmprint.cli.Main;
import org.jspecify.annotations.Nullable;

/**
 * Runs commands in this process and takes in what they say.
 *
 * @param outputs takes it in
 */
record CommandTranscript(GoldenOutputs outputs) {
    /** Runs a command; its words go into an output of this name. */
    int run(String name, Object... args) throws IOException {
        return run(name, null, args);
    }

    /** The same; returns what stood on standard output, which has to be good. */
    String printed(String name, Object... args) throws IOException {
        StringWriter printed = new StringWriter();
        int code = run(name, printed, args);
        if (code != 0) {
            throw new AssertionError(name + " ended with " + code);
        }
        return printed.toString().strip();
    }

    private int run(String name, @Nullable StringWriter printed, Object... args) throws IOException {
        String[] words = Arrays.stream(args).map(String::valueOf).toArray(String[]::new);
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code = Main.run(words, new PrintWriter(out), new PrintWriter(err));
        outputs.text(name + ".txt", transcript(shown(words), code, out.toString(), err.toString()));
        if (printed != null) {
            printed.append(out.toString());
        }
        return code;
    }

    private static String shown(String... words) {
        return "ohmprint "
                + Arrays.stream(words)
                        .map(word -> word.isEmpty() || word.contains(" ") ? "'" + word + "'" : word)
                        .collect(Collectors.joining(" "));
    }

    /** What a command said, as a text. JSON is broken into lines, each line of it by itself. */
    static String transcript(String command, int code, String out, String err) {
        String printed = out.lines()
                .map(line -> line.startsWith("{") || line.startsWith("[") ? GoldenOutputs.broken(line) : line + "\n")
                .collect(Collectors.joining());
        return "$ " + command + "\nexit " + code + "\n== standard output\n" + printed + "== standard error\n" + err;
    }
}
