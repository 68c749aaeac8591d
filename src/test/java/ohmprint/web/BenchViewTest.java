package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import java.util.List;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The bench with stored sessions, in a browser: what is shown, by whom it can be used, and whether the numbers are right. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class BenchViewTest extends StoredSessions {
    private static Locator slider(Page page) {
        return page.getByRole(AriaRole.SLIDER, new Page.GetByRoleOptions().setName(Pattern.compile("Magnitude")));
    }

    /** Colours follow from the scheme and the layout from the width alone: each is asked about once. */
    @ParameterizedTest
    @CsvSource({"LIGHT, 360, 1", "LIGHT, 1280, 2", "DARK, 1280, 1"})
    void everyoneCanUseItInLightAndDarkWideNarrowAndZoomed(ColorScheme scheme, int width, int zoom) {
        Page page = browser.open(link, scheme, width, zoom);
        page.navigate(at("/session/shorted?with=session:repaired"));
        assertThat(page.locator(".laid li").first()).isVisible();
        page.locator(".difference select").selectOption("session:repaired");
        assertThat(page.locator(".difference canvas").first()).isVisible();
        page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })");
        assertThat(page.locator(".all-values td").first()).isAttached();
        assertThat(page.locator(".spectrum path.signal").first()).isVisible();
        BenchBrowser.assertFitForAll(page, scheme + ", " + width + " pixels, zoom " + zoom);
        page.context().close();
    }

    /** The letters of the picture are drawn for its full width of 680 pixels. */
    @Test
    void theStraightLineStaysReadableInANarrowWindow() {
        Page page = browser.open(link, ColorScheme.LIGHT, 360, 1);
        page.navigate(at("/session/repaired"));
        assertThat(page.locator(".lines img")).isVisible();

        assertThat(page.locator(".lines img").boundingBox().width).isGreaterThan(0.8 * 680);
        BenchBrowser.assertFitForAll(page, "a picture that is moved to and fro");
        page.context().close();
    }

    @Test
    void nothingMovesForThoseWhoAskForRest() {
        Page page = session("");
        assertThat(page.evaluate("matchMedia('(prefers-reduced-motion: reduce)').matches"))
                .isEqualTo(true);
        assertThat(page.evaluate("[...document.querySelectorAll('*')].map(n => getComputedStyle(n))"
                        + ".filter(s => parseFloat(s.transitionDuration) > 0 || s.animationName !== 'none').length"))
                .isEqualTo(0);
        page.context().close();
    }

    @Test
    void theCursorGoesByKeysAndTellsTheValuesOfTheResult() throws Exception {
        Page page = session("?hz=1000");
        Locator slider = slider(page);
        slider.focus();
        double[] near = written("repaired", 1000);
        assertThat(number(page.locator(".station.microphone .found strong").innerText()))
                .isCloseTo(near[1], within(0.01 * near[5] + 0.05));
        for (String key : List.of("Home", "ArrowRight", "PageUp", "End")) {
            page.keyboard().press(key);
            String told = slider.getAttribute("aria-valuetext");
            double hz = number(told) * (told.contains("kHz") ? 1000 : 1);
            double[] row = written("repaired", hz);
            assertThat(hz).as(key).isCloseTo(row[0], within(0.005 * row[0]));
            assertThat(number(told.substring(told.indexOf("this session"))))
                    .as("%s: %s", key, told)
                    .isCloseTo(row[1], within(0.06 * row[5]));
            assertThat(page.locator(".reading table").first())
                    .containsText(Pattern.compile(
                            String.format(java.util.Locale.ROOT, "%.1f", row[5]).substring(0, 2)));
        }
        assertThat(page).hasURL(Pattern.compile("hz=19[0-9]{3}"));
        page.reload();
        assertThat(slider(page)).hasAttribute("aria-valuetext", Pattern.compile("^19.*kHz.*"));
        page.context().close();
    }

    @Test
    void zoomGoesByKeysAndByDraggingAndComesBack() {
        Page page = session("");
        Locator words = page.locator(".zoom-words");
        page.getByLabel("Look closer").focus();
        page.keyboard().press("Enter");
        assertThat(words).hasText(Pattern.compile("110.Hz to 3\\.6.kHz"));
        page.getByLabel("Show the whole range").click();
        assertThat(words).hasText(Pattern.compile("20.Hz to 20.kHz"));
        var box = page.locator(".curve .u-over").first().boundingBox();
        page.mouse().move(box.x + box.width / 3, box.y + 40);
        page.mouse().down();
        page.mouse().move(box.x + 2 * box.width / 3, box.y + 60);
        page.mouse().up();
        // A third of three decades is one decade: 200 Hz to 2 kHz.
        assertThat(words).hasText(Pattern.compile("(19|20|21)0.Hz to 2(\\.0)?.kHz"));
        page.context().close();
    }
}
