package ohmprint;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Playwright;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/**
 * Debian's chromium without windows of its own, which would be drawn for nobody; it asks nothing of the network. Tests that use it say
 * {@code @NeedsPackage("chromium-headless-shell")}.
 */
public final class Chromium {
    private static final Path PROGRAM = Path.of("/usr/bin/chromium-headless-shell");
    private static final List<String> ALONE = List.of(
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync");

    private Chromium() {}

    /** What drives it, without browsers of its own. */
    public static Playwright driver() {
        return Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
    }

    /** Starts it. */
    public static Browser start(Playwright driver) {
        return driver.chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setExecutablePath(PROGRAM)
                        .setArgs(ALONE));
    }
}
