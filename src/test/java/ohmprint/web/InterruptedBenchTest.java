package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import ohmprint.loopback.Program;
import ohmprint.loopback.SimulatedBench;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/** What happens to a session whose window is reloaded, closed or doubled, and whose program is killed while it records. */
@Isolated("sound and a browser want the computer for themselves")
@NeedsPackage({"chromium-headless-shell", "pulseaudio", "pulseaudio-utils", "libasound2-plugins"})
@Tag("sound")
@Tag("browser")
class InterruptedBenchTest {
    private static final double SLOW_MS = 60_000;

    @TempDir
    Path dir;

    private static Locator button(Page page, String name) {
        return page.getByRole(
                AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name).setExact(true));
    }

    private static String begin(Page page) {
        return (String)
                page.evaluate(
                        "fetch('/api/sessions', {method: 'POST', headers: {'Content-Type': 'application/json'},"
                                + " body: JSON.stringify({name: 'coil', microphone: {label: 'Bench coil 4', rated_impedance_ohm: 200},"
                                + " input: {resistance_ohm: 3000, resistance_tolerance_percent: 0.1, capacitance_pf: 470},"
                                + " loads: {ohm: [150, 1500], tolerance_percent: 0.02, repeat_first: false}})}).then(a => a.json()).then(s => s.name)");
    }

    private static void setUp(Page page, boolean sound) {
        button(page, "Record with this computer").click();
        if (sound) {
            page.getByText("Sound and sample rate").click();
            page.getByLabel("Length").fill("3");
        }
        button(page, "Set it up").click();
        button(page, "I have read this").click();
    }

    private static Path waitFor(Path file, long bytes) throws Exception {
        long end = System.nanoTime() + 90_000_000_000L;
        while (!Files.exists(file) || Files.size(file) < bytes) {
            assertThat(System.nanoTime()).as("%s does not grow", file).isLessThan(end);
            Thread.sleep(10);
        }
        return file;
    }

    @Test
    void reloadSecondWindowClosedWindowAndKilledProgramLoseNothing() throws Exception {
        Path workspace = dir.resolve("workspace");
        Path session = workspace.resolve("coil");
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), 1500);
                BenchBrowser browser = BenchBrowser.start()) {
            Page page;
            Page second;
            String base;
            try (Program killed = BenchBrowser.bench(bench.server().environment(), workspace)) {
                String link = killed.line();
                base = link.substring(0, link.indexOf("/open"));
                page = browser.open(link);
                page.context().setDefaultTimeout(SLOW_MS);
                assertThat(begin(page)).isEqualTo("coil");
                page.navigate(base + "/session/coil");
                setUp(page, true);
                button(page, "Play and listen").click();
                button(page, "Take it at this level").click();

                bench.fit(150);
                button(page, "It is fitted: play and record").click();
                waitFor(session.resolve("take-1.unfinished.wav"), 100_000);
                page.reload();
                assertThat(page.locator(".meter-words")).containsText(Pattern.compile("peak −?[0-9]"));
                second = browser.second(page, base + "/session/coil");
                assertThat(second.locator(".take.waits")).containsText("150");
                assertThat(page.locator(".take.waits")).containsText("150");

                List<String> asked = new ArrayList<>();
                page.onceDialog(dialog -> {
                    asked.add(dialog.type());
                    dialog.dismiss();
                });
                page.locator("h1").click();
                page.close(new Page.CloseOptions().setRunBeforeUnload(true));
                page.waitForCondition(() -> !asked.isEmpty());
                assertThat(asked).containsExactly("beforeunload");
                assertThat(page.isClosed()).isFalse();

                second.locator(".take.waits button")
                        .filter(new Locator.FilterOptions().setHasText("Keep"))
                        .click();
                assertThat(page.locator(".take-list > li")).hasCount(1);
                assertThat(Files.readString(session.resolve("session.yaml"))).contains("take-1.wav");

                bench.fit(1500);
                button(second, "It is fitted: play and record").click();
                waitFor(session.resolve("take-2.unfinished.wav"), 100_000);
                killed.kill();
            }
            assertThat(page.locator(".link-state")).containsText("The program does not answer");
            assertThat(session.resolve("take-1.wav")).exists();
            try (Program again = BenchBrowser.bench(
                    bench.server().environment(), workspace, URI.create(base).getPort())) {
                String link = again.line();
                assertThat(page.locator(".link-state")).containsText("Open the link that it printed last");
                browser.forgive();
                second.close();
                page.navigate(link);
                page.navigate(base + "/session/coil");
                assertThat(page.locator(".take-list > li")).hasCount(1);
                setUp(page, false);
                assertThat(session.resolve("take-2.unusable-1.wav")).exists();
                button(page, "It is fitted: play and record").click();
                page.locator(".take.waits button")
                        .filter(new Locator.FilterOptions().setHasText("Keep"))
                        .click();
                assertThat(page.locator(".recorder")).containsText("All takes are recorded.");
                assertThat(page.locator(".curve canvas").first()).isVisible();
                browser.assertNoComplaints();
            }
        }
    }
}
