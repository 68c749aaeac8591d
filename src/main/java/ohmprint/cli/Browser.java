package ohmprint.cli;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Hands a link to the browser of this computer, where there is a screen to show one. */
final class Browser {
    private Browser() {}

    /** Opens a link; false when there is no way to. */
    static boolean open(String link) {
        List<String> command = command(System.getProperty("os.name", ""), System.getenv());
        if (command.isEmpty()) {
            return false;
        }
        try {
            new ProcessBuilder(java.util.stream.Stream.concat(command.stream(), java.util.stream.Stream.of(link))
                            .toList())
                    .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                    .redirectError(ProcessBuilder.Redirect.DISCARD)
                    .start();
            return true;
        } catch (IOException e) {
            return false;
        }
    }

    /**
     * What opens a link; nothing without a screen.
     *
     * @param system name of the operating system
     * @param environment variables of the process
     */
    static List<String> command(String system, Map<String, String> environment) {
        String lower = system.toLowerCase(Locale.ROOT);
        if (lower.contains("mac")) {
            return List.of("open");
        }
        if (lower.contains("windows")) {
            return List.of("rundll32", "url.dll,FileProtocolHandler");
        }
        boolean screen = !environment.getOrDefault("DISPLAY", "").isEmpty()
                || !environment.getOrDefault("WAYLAND_DISPLAY", "").isEmpty();
        return screen ? List.of("xdg-open") : List.of();
    }
}
