package ohmprint.cli;

import java.io.Console;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import ohmprint.app.Version;
import org.jspecify.annotations.Nullable;

/**
 * What the process finds around itself.
 *
 * @param folder current folder
 * @param progressWanted whether a progress bar can be shown on standard error
 * @param columns width of the terminal in characters
 * @param debug whether a fault of the program shows its stack trace
 * @param version version of the program
 */
record Environment(Path folder, boolean progressWanted, int columns, boolean debug, String version) {
    private static final int USUAL_COLUMNS = 80;
    private static final int FEWEST_COLUMNS = 30;

    /** Those of this process. */
    static Environment ofThisProcess() {
        Map<String, String> environment = System.getenv();
        return new Environment(
                Path.of(""),
                isTerminal(2) && !"dumb".equals(environment.get("TERM")),
                columns(environment.get("COLUMNS")),
                "1".equals(environment.get("OHMPRINT_DEBUG")),
                Version.current());
    }

    /**
     * True when a standard stream is a terminal. Java itself cannot tell for one stream, so the system is asked; where it
     * does not answer, the stream counts as a terminal when Java sees a console.
     *
     * @param descriptor 1 for standard output, 2 for standard error
     */
    static boolean isTerminal(int descriptor) {
        try {
            String target = Files.readSymbolicLink(Path.of("/proc/self/fd/" + descriptor))
                    .toString();
            return target.startsWith("/dev/pts/") || target.startsWith("/dev/tty") || target.equals("/dev/console");
        } catch (IOException | UnsupportedOperationException e) {
            return consoleIsTerminal();
        }
    }

    /** Since Java 22 there is a console even without a terminal, and a method that tells the two apart. */
    @SuppressWarnings("SystemConsoleNull")
    private static boolean consoleIsTerminal() {
        Console console = System.console();
        if (console == null || Runtime.version().feature() < 22) {
            return console != null;
        }
        try {
            return (boolean) Console.class.getMethod("isTerminal").invoke(console);
        } catch (ReflectiveOperationException e) {
            return false;
        }
    }

    private static int columns(@Nullable String text) {
        return text == null || !text.matches("[0-9]{1,4}")
                ? USUAL_COLUMNS
                : Math.max(FEWEST_COLUMNS, Integer.parseInt(text));
    }
}
