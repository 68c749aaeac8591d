package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.ReducedMotion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import ohmprint.Chromium;
import ohmprint.loopback.Program;

/**
 * Debian's chromium before the bench page of a program in a process of its own. What a page complains about, in its
 * console or by an exception, is collected: a test ends with {@link #assertNoComplaints}.
 */
public final class BenchBrowser implements AutoCloseable {
    private static final double PATIENCE_MS = 60_000;
    private static final int MOST_TABS = 200;
    /** A row beyond the fifth of a table is like those before it: axe, which takes seconds for hundreds of them, is not asked again. */
    private static final String LONG_TABLES =
            "display => document.querySelectorAll('tbody > tr:nth-child(n+6)').forEach(row => { row.style.display = display; })";

    private final Playwright playwright;
    private final Browser browser;
    private final List<String> complaints = new ArrayList<>();

    private BenchBrowser(Playwright playwright, Browser browser) {
        this.playwright = playwright;
        this.browser = browser;
    }

    /** Starts the browser. */
    public static BenchBrowser start() {
        PlaywrightAssertions.setDefaultAssertionTimeout(PATIENCE_MS);
        Playwright playwright = Chromium.driver();
        Browser browser = Chromium.start(playwright);
        return new BenchBrowser(playwright, browser);
    }

    /** Starts {@code bench} for a workspace, which is made when it is not there; the link is the first line of standard output. */
    public static Program bench(Map<String, String> environment, Path workspace, String... more) throws IOException {
        return bench(environment, workspace, 0, more);
    }

    /** The same on a port; 0 takes any free one. */
    public static Program bench(Map<String, String> environment, Path workspace, int port, String... more)
            throws IOException {
        String[] all = Stream.concat(
                        Stream.of("bench", "--workspace", workspace.toString(), "--port", "" + port, "--no-open"),
                        Stream.of(more))
                .toArray(String[]::new);
        return Program.ohmprint(
                environment, Files.createDirectories(workspace).toAbsolutePath().getParent(), all);
    }

    /** Goes on with the Tab key until a control has the focus: it fails when the keyboard does not lead there. */
    public static void tabTo(Page page, Locator wanted) {
        Locator one = wanted.first();
        one.waitFor();
        for (int i = 0; i < MOST_TABS; i++) {
            if ((Boolean) one.evaluate("node => node === document.activeElement")) {
                return;
            }
            page.keyboard().press("Tab");
        }
        throw new AssertionError("the Tab key does not lead to " + wanted);
    }

    /** Tabs to a field and writes into it, over what is there. */
    public static void write(Page page, String label, String text) {
        tabTo(page, page.getByLabel(label, new Page.GetByLabelOptions().setExact(true)));
        page.keyboard().press("ControlOrMeta+A");
        page.keyboard().type(text);
    }

    /** Tabs to a button or link and presses Enter. */
    public static void press(Page page, AriaRole role, String name) {
        tabTo(
                page,
                page.getByRole(role, new Page.GetByRoleOptions().setName(name).setExact(true)));
        page.keyboard().press("Enter");
    }

    /** A window of 1280 by 900 pixels in light, opened by a program's link. */
    public Page open(String link) {
        return open(link, ColorScheme.LIGHT, 1280, 1);
    }

    /**
     * A window of its own, without cookies of others, opened by a program's link.
     *
     * @param zoom how far the user has zoomed in: 2 shows letters twice as large in the same window
     */
    public Page open(String link, ColorScheme scheme, int width, int zoom) {
        return open(
                link,
                new Browser.NewContextOptions()
                        .setColorScheme(scheme)
                        .setDeviceScaleFactor(zoom)
                        .setViewportSize(width / zoom, 900 / zoom));
    }

    /** The same on a screen of 800 by 1100 pixels that is used with fingers. */
    public Page openForFingers(String link) {
        return open(
                link,
                new Browser.NewContextOptions()
                        .setColorScheme(ColorScheme.LIGHT)
                        .setHasTouch(true)
                        .setViewportSize(800, 1100));
    }

    private Page open(String link, Browser.NewContextOptions options) {
        BrowserContext context = browser.newContext(options.setReducedMotion(ReducedMotion.REDUCE));
        context.setDefaultTimeout(PATIENCE_MS);
        Page page = window(context);
        page.navigate(link);
        return page;
    }

    /** One more window that shares what another knows of the program. */
    public Page second(Page first, String address) {
        Page page = window(first.context());
        page.navigate(address);
        return page;
    }

    private Page window(BrowserContext context) {
        Page page = context.newPage();
        page.onPageError(complaints::add);
        page.onConsoleMessage(message -> {
            if (message.type().equals("error") || message.type().equals("warning")) {
                complaints.add(message.text() + " (" + message.location() + ")");
            }
        });
        return page;
    }

    /** Rules that a view breaks: those of axe, and nothing reaching beyond the page. Source of the rules: axe-core, WCAG 2.2. */
    public static void assertFitForAll(Page page, String what) {
        assertThat((Integer) page.evaluate("document.documentElement.scrollWidth"))
                .as("%s: nothing reaches beyond the page", what)
                .isLessThanOrEqualTo((Integer) page.evaluate("innerWidth"));
        page.evaluate(LONG_TABLES, "none");
        assertThat(new AxeBuilder(page).analyze().getViolations()).as(what).isEmpty();
        page.evaluate(LONG_TABLES, "");
    }

    /** What is in the address bar, without the part that names the program. */
    public static String path(Page page) {
        return (String) page.evaluate("location.pathname");
    }

    /** Fails when a page has written an error or a warning, or broken the rules of the content policy. */
    public void assertNoComplaints() {
        assertThat(complaints).isEmpty();
    }

    /** Forgets what was complained about so far, after a failure that a test has made on purpose. */
    public void forgive() {
        complaints.clear();
    }

    /** Copies the takes of a fixture session with their manifest. */
    public static Path session(Path from, Path to) throws IOException {
        Files.createDirectories(to);
        try (Stream<Path> files = Files.list(from)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Files.copy(file, to.resolve(file.getFileName()));
            }
        }
        return to;
    }

    @Override
    public void close() {
        browser.close();
        playwright.close();
    }
}
