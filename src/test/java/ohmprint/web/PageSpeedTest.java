package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.BoundingBox;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.NeedsPackage;
import ohmprint.loopback.Program;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long the page takes, in a browser that draws without the help of a graphics card: until the curve of a stored session
 * is there, from picture to picture while cursor and range move under many curves, and from a step of the load control to
 * its answer. {@code -Dohmprint.page.overlays} says how many curves; {@code scripts/benchmark --page} takes 50 and holds the
 * times to what is promised. Results go to {@code target/page-speed.txt}.
 */
@NeedsPackage("chromium-headless-shell")
@Tag("browser")
class PageSpeedTest {
    private static final int OVERLAYS = Integer.getInteger("ohmprint.page.overlays", 3);
    private static final int FULL = 50;
    private static final int STEPS = OVERLAYS < FULL ? 5 : 60;
    private static final double FIRST_CURVE_MS = 1000;
    private static final double LOAD_STEP_MS = 16;
    private static final double FLUID_MS = 50;

    private static final String WHEN_THE_CURVE_COMES = """
            new MutationObserver((_, me) => {
              if (!document.querySelector(".curve .u-wrap canvas")) return;
              me.disconnect();
              requestAnimationFrame(() => requestAnimationFrame(() => { window.curveAt = performance.now(); }));
            }).observe(document, { childList: true, subtree: true });
            window.frames_ = [];
            let last = 0;
            const tick = (t) => { if (last) window.frames_.push(t - last); last = t; requestAnimationFrame(tick); };
            requestAnimationFrame(tick);
            """;

    /** Moves the slider by a step and resolves with the time until the answer stands there. */
    private static final String STEP = """
            () => new Promise((done) => {
              const slider = document.getElementById("load-slider");
              const begun = performance.now();
              new MutationObserver((_, me) => {
                me.disconnect();
                done(performance.now() - begun);
              }).observe(document.querySelector(".load-now"), { childList: true, subtree: true });
              slider.value = String(Number(slider.value) + 7);
              slider.dispatchEvent(new Event("input", { bubbles: true }));
            })
            """;

    @TempDir
    Path dir;

    @Test
    void theFirstCurveManyCurvesAndTheLoadControl() throws Exception {
        Path workspace = Files.createDirectories(dir.resolve("workspace"));
        Path first = BenchBrowser.session(Path.of("fixtures/sessions/ribbon-repaired"), workspace.resolve("unit"));
        try (Program program = BenchBrowser.bench(Map.of(), workspace);
                BenchBrowser browser = BenchBrowser.start()) {
            String link = program.line();
            String base = link.substring(0, link.indexOf("/open"));
            Page page = browser.open(link);
            page.context().addInitScript(WHEN_THE_CURVE_COMES);
            page.navigate(base + "/session/unit");
            page.getByRole(
                            AriaRole.BUTTON,
                            new Page.GetByRoleOptions().setName("Measure").setExact(true))
                    .click();
            assertThat(page.locator(".curve canvas").first()).isVisible();
            for (int i = 1; i <= OVERLAYS; i++) {
                Path copy = BenchBrowser.session(first, workspace.resolve("unit-" + i));
                BenchBrowser.session(first.resolve("result"), copy.resolve("result"));
            }

            List<Double> opened = IntStream.range(0, STEPS / 5)
                    .mapToObj(i -> opened(page, base))
                    .toList();
            List<Double> steps = IntStream.range(0, STEPS)
                    .mapToObj(i -> ((Number) page.evaluate(STEP)).doubleValue())
                    .toList();
            page.navigate(base + "/session/unit?with="
                    + IntStream.rangeClosed(1, OVERLAYS)
                            .mapToObj(i -> "session:unit-" + i)
                            .collect(Collectors.joining(",")));
            assertThat(page.locator(".reading table").first().locator("tbody tr"))
                    .hasCount(OVERLAYS + 1);
            page.waitForTimeout(500);
            List<Double> cursor = frames(page, () -> moveOver(page));
            List<Double> range = frames(page, () -> changeRange(page));

            String report = line("curve of a stored session is drawn", opened)
                    + line("load control, step to answer", steps)
                    + line("picture to picture, cursor over " + OVERLAYS + " curves", cursor)
                    + line("picture to picture, range of " + OVERLAYS + " curves", range);
            Files.createDirectories(Path.of("target"));
            Files.writeString(Path.of("target/page-speed.txt"), report);
            browser.assertNoComplaints();
            if (OVERLAYS >= FULL) {
                assertThat(at(opened, 0.5)).as(report).isLessThan(FIRST_CURVE_MS);
                assertThat(at(steps, 0.5)).as(report).isLessThan(LOAD_STEP_MS);
                assertThat(at(cursor, 0.95)).as(report).isLessThan(FLUID_MS);
            }
        }
    }

    /** Time from the request for the page to the picture that holds the curve, milliseconds. */
    private static double opened(Page page, String base) {
        page.navigate(base + "/session/unit");
        page.waitForCondition(() -> (Boolean) page.evaluate("window.curveAt > 0"));
        assertThat(page.locator(".load-now")).containsText("ten times");
        return ((Number) page.evaluate("window.curveAt")).doubleValue();
    }

    private static void moveOver(Page page) {
        Locator plot = page.locator(".curve .u-over").first();
        plot.scrollIntoViewIfNeeded();
        BoundingBox box = plot.boundingBox();
        for (int i = 0; i < 2 * STEPS; i++) {
            page.mouse().move(box.x + box.width * (i + 0.5) / (2 * STEPS), box.y + 50);
        }
    }

    private static void changeRange(Page page) {
        for (int i = 0; i < STEPS / 5; i++) {
            for (String name :
                    List.of("Look closer", "Towards higher frequencies", "Towards lower frequencies", "Look wider")) {
                page.getByLabel(name).click();
            }
        }
    }

    private static List<Double> frames(Page page, Runnable work) {
        page.evaluate("window.frames_.length = 0");
        work.run();
        return ((List<?>) page.evaluate("window.frames_"))
                .stream().map(n -> ((Number) n).doubleValue()).toList();
    }

    private static String line(String what, List<Double> ms) {
        assertThat(ms).as(what).isNotEmpty();
        return String.format(
                Locale.ROOT,
                "%-52s median %6.1f ms, 95 %% %6.1f ms, most %6.1f ms (%d)%n",
                what,
                at(ms, 0.5),
                at(ms, 0.95),
                at(ms, 1),
                ms.size());
    }

    private static double at(List<Double> all, double share) {
        List<Double> sorted = Stream.of(all.toArray(Double[]::new)).sorted().toList();
        return sorted.get((int) Math.min(sorted.size() - 1.0, Math.floor(share * sorted.size())));
    }
}
