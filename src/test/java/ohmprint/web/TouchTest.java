package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Position;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The bench on a screen that is used with fingers. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class TouchTest extends FurnishedRooms {
    private Page ribbon() throws Exception {
        measure("ribbon", OpenPage.RIBBON);
        Page page = touched("/session/ribbon?hz=1000&load=1500");
        assertThat(page.locator(".curve canvas").first()).isVisible();
        assertThat(page.locator(".lines img")).isVisible();
        return page;
    }

    /** Where the cursor of the magnitude stands, hertz. */
    private static double hertz(Page page) {
        var told = Pattern.compile("^([0-9.]+).(k?)Hz").matcher(slider(page).getAttribute("aria-valuetext"));
        assertThat(told.find()).isTrue();
        return Double.parseDouble(told.group(1)) * (told.group(2).isEmpty() ? 1 : 1000);
    }

    private static Locator slider(Page page) {
        return page.locator(".curve .graph-host").first();
    }

    /** The axis goes over three decades from 20 Hz to 20 kHz, evenly in the logarithm: a third of it is one decade. */
    @Test
    void tappingOnThePlotMovesTheCursorAndTheExactValues() throws Exception {
        Page page = ribbon();
        Locator plot = page.locator(".curve .u-over").first();
        Locator reading = page.locator(".reading table").first();
        Locator found = page.locator(".station.microphone .found");
        String before = reading.innerText();
        plot.tap(new Locator.TapOptions().setPosition(new Position(plot.boundingBox().width / 3, 60)));

        assertThat(slider(page)).hasAttribute("aria-valuetext", Pattern.compile("^(19|20|21)[0-9](\\.[0-9])?.Hz.*"));
        assertThat(reading).not().hasText(before);
        assertThat(found).containsText(Pattern.compile("at (19|20|21)[0-9](\\.[0-9])?.Hz"));
        assertThat(page).hasURL(Pattern.compile("hz=(19|20|21)[0-9]"));
        browser.assertNoComplaints();
    }

    @Test
    void aFingerAlongThePlotLeadsTheCursorAndMarksNoRange() throws Exception {
        Page page = ribbon();
        String range = page.locator(".zoom-words").innerText();
        new Hands(page).drag(page.locator(".curve .u-over").first(), 0.4, 2. / 3);

        assertThat(slider(page)).hasAttribute("aria-valuetext", Pattern.compile("^(1\\.9|2(\\.0)?|2\\.1)[0-9]*.kHz.*"));
        assertThat(hertz(page)).isCloseTo(2000, within(120.0));
        assertThat(page.locator(".zoom-words")).hasText(range);
    }

    @Test
    void theLoadIsTappedAndDraggedAndTheAnswerFollows() throws Exception {
        Page page = ribbon();
        Locator load = page.locator("#load-slider");
        Locator told = page.locator(".load-now");
        load.tap(new Locator.TapOptions().setPosition(new Position(load.boundingBox().width - 4, 8)));
        assertThat(load).hasAttribute("aria-valuetext", Pattern.compile(".*at least ten times everywhere.*"));
        double far = Double.parseDouble(load.inputValue());
        assertThat(far).isGreaterThan(950);
        String tapped = told.innerText();

        new Hands(page).drag(load, far / 1000, 0.1);

        // A tenth of the way in the logarithm from 150 Ω to 40 kΩ: 150·(40000/150)^0.1 = 262 Ω.
        assertThat(load).hasAttribute("aria-valuetext", Pattern.compile(".*less than ten times.*"));
        assertThat(Double.parseDouble(load.inputValue())).isCloseTo(100, within(25.0));
        assertThat(told).not().hasText(tapped);
        assertThat(page).hasURL(Pattern.compile("load=2[0-9]{2}(\\D|$)"));
        browser.assertNoComplaints();
    }
}
