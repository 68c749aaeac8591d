package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.options.ColorScheme;
import java.util.ArrayList;
import java.util.List;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What comes late to the bench has its place from the start: nothing moves away under a hand that is about to touch it. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class NothingMovesTest extends StoredSessions {
    private static final double PIXELS = 2;

    @ParameterizedTest
    @CsvSource({"straight line, **/lines?*", "choice of curves, **/api/workspace", "spectra, **/inspection"})
    void theLoadControlStandsStillWhateverComesLate(String what, String address) {
        for (int width : new int[] {800, 1280}) {
            Page page = browser.open(link, ColorScheme.LIGHT, width, 1);
            List<Route> late = new ArrayList<>();
            page.route(address, late::add);
            page.navigate(at("/session/repaired"));
            assertThat(page.locator(".load-answers canvas")).isVisible();
            page.waitForCondition(() -> !late.isEmpty());
            double before = top(page);

            late.forEach(Route::resume);
            page.unroute(address);

            assertThat(page.locator(".lines img")).isVisible();
            assertThat(page.locator(".overlays option")).hasCount(2);
            assertThat(page.locator(".spectrum path.signal")).hasCount(3);
            assertThat(top(page)).as("%s in a window of %d pixels", what, width).isCloseTo(before, within(PIXELS));
            page.context().close();
        }
    }

    private static double top(Page page) {
        return ((Number) page.evaluate("document.getElementById('load-slider').getBoundingClientRect().top + scrollY"))
                .doubleValue();
    }
}
