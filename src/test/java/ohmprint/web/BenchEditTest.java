package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** What is changed on the bench, in a browser: the load, values in the drawing, and files from elsewhere. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class BenchEditTest extends StoredSessions {
    private static final double INPUT_OHM = 3300;

    /** Source of the loss: the divider of the README, worked out from the written curve: |1 + Z/R|. */
    @Test
    void theLoadControlTellsTheLossOfTheDividerAndIsInTheAddress() throws Exception {
        Page page = session("?load=600");
        double[] row = written("repaired", 1000);
        Complex z = new Complex(row[3], row[4]);
        for (double ohm : new double[] {600, 10_000}) {
            page.getByLabel("Load", new Page.GetByLabelOptions().setExact(true))
                    .last()
                    .fill(Integer.toString((int) ohm));
            assertThat(page.locator(".load-now"))
                    .containsText(ohm > 3200 ? "at least ten times everywhere" : "less than ten times somewhere");
            double loss = 20 * Math.log10(z.divide(ohm).add(1).abs());
            Locator told = page.locator(".load-now dd").nth(2);
            assertThat(told)
                    .hasText(Pattern.compile("^"
                            + String.format(java.util.Locale.ROOT, "%.1f", loss).charAt(0) + ".*at 1.kHz"));
            assertThat(number(told.innerText())).isCloseTo(loss, within(0.011));
        }
        assertThat(page).hasURL(Pattern.compile("load=10000"));
        page.locator("#load-slider").focus();
        page.keyboard().press("Home");
        assertThat(page.locator("#load-slider"))
                .hasAttribute("aria-valuetext", Pattern.compile("^150.*less than ten times.*"));
        page.context().close();
    }

    @Test
    void valuesAreEditedInTheDrawingErrorsStandBesideAndOtherWindowsFollow() throws Exception {
        Page page = session("");
        Page other = browser.second(page, at("/session/repaired"));
        Locator rated = page.getByLabel("Rated impedance");
        rated.fill("soft");
        rated.press("Enter");
        assertThat(page.locator(".station.microphone .error").nth(2)).containsText("is no resistance");
        assertThat(rated).hasAttribute("aria-invalid", "true");
        rated.fill("0.27k");
        rated.press("Enter");
        assertThat(other.getByLabel("Rated impedance")).hasValue("270");
        assertThat(Files.readString(dir.resolve("workspace/repaired/session.yaml")))
                .contains("rated_impedance_ohm: 270");
        page.context().close();
    }

    @Test
    void filesFromElsewhereAreAskedWhichLoadTheyAreAndBecomeACurve() throws Exception {
        Page page = browser.open(link);
        page.evaluate(
                "fetch('/api/sessions', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify("
                        + "{name: 'elsewhere', microphone: {label: 'Elsewhere 1'}, input: {resistance_ohm: " + INPUT_OHM
                        + ", resistance_tolerance_percent: 0.1, capacitance_pf: 470}, loads: null})}).then(a => a.status)");
        page.navigate(at("/session/elsewhere"));
        Path from = FIXTURES.resolve("ribbon-repaired");
        page.locator(".chooser input").first().setInputFiles(new Path[] {
            from.resolve("take-1.wav"), from.resolve("take-2.wav"), from.resolve("stimulus.wav")
        });
        for (String[] take : new String[][] {{"take-1.wav", "220"}, {"take-2.wav", "2k2"}}) {
            Locator card =
                    page.getByRole(AriaRole.GROUP, new Page.GetByRoleOptions().setName(take[0] + ", no take yet"));
            card.getByText("Put it in").click();
            assertThat(card.locator(".error").first()).containsText("write ohms such as 330, 4.7k or open");
            card.getByLabel("Which load is this?").fill(take[1]);
            card.getByLabel("Tolerance").fill("0.02");
            card.getByText("Put it in").click();
            assertThat(page.locator(".take-list")).containsText(take[0]);
        }
        page.getByText("Use it as the sound that was played").click();
        page.getByRole(
                        AriaRole.BUTTON,
                        new Page.GetByRoleOptions().setName("Measure").setExact(true))
                .click();
        assertThat(page.locator(".curve-head")).containsText("route stimulus");
        double[] here = written("elsewhere", 1000);
        double[] there = written("repaired", 1000);
        assertThat(here[1]).isCloseTo(there[1], within(there[5] + here[5]));
        page.context().close();
    }
}
