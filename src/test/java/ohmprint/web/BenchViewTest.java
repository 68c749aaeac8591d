package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import ohmprint.soundbench.Program;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The bench with stored sessions, in a browser: what is shown, by whom it can be used, and whether the numbers are right. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium")
class BenchViewTest {
    private static final Path FIXTURES = Path.of("fixtures/sessions");
    private static final double INPUT_OHM = 3300;
    private static final String THIRDS = "3";

    @TempDir
    static Path dir;

    private static BenchBrowser browser;
    private static Program program;
    private static String link;

    @BeforeAll
    static void openTwoStoredSessions() throws Exception {
        Path workspace = Files.createDirectories(dir.resolve("workspace"));
        BenchBrowser.session(FIXTURES.resolve("ribbon-repaired"), workspace.resolve("repaired"));
        BenchBrowser.session(FIXTURES.resolve("ribbon-shorted-turns"), workspace.resolve("shorted"));
        program = BenchBrowser.bench(Map.of(), workspace);
        link = program.line();
        browser = BenchBrowser.start();
        Page page = browser.open(link);
        for (String name : List.of("repaired", "shorted")) {
            page.navigate(at("/session/" + name));
            page.getByLabel("Bands").selectOption(name.equals("shorted") ? THIRDS : "12");
            page.getByRole(
                            AriaRole.BUTTON,
                            new Page.GetByRoleOptions().setName("Measure").setExact(true))
                    .click();
            assertThat(page.locator(".curve canvas").first()).isVisible();
        }
        page.context().close();
    }

    @AfterAll
    static void close() {
        browser.close();
        program.close();
    }

    @AfterEach
    void nothingWasComplainedOf() {
        try {
            browser.assertNoComplaints();
        } finally {
            browser.forgive();
        }
    }

    private static String at(String path) {
        return link.substring(0, link.indexOf("/open")) + path;
    }

    private static Page session(String query) {
        Page page = browser.open(link);
        page.navigate(at("/session/repaired" + query));
        assertThat(page.locator(".curve canvas").first()).isVisible();
        return page;
    }

    /** Row of {@code curve.csv} at the band next to a frequency: frequency, magnitude, phase, resistance, reactance, u95 of |Z|. */
    private static double[] written(String name, double hz) throws Exception {
        double[] best = null;
        for (String line : Files.readAllLines(dir.resolve("workspace/" + name + "/result/curve.csv"))) {
            String[] cells = line.split(",", -1);
            if (cells[0].startsWith("f") || cells[1].isEmpty()) {
                continue;
            }
            double at = Double.parseDouble(cells[0]);
            if (best == null || Math.abs(Math.log(at / hz)) < Math.abs(Math.log(best[0] / hz))) {
                best = new double[] {
                    at,
                    Double.parseDouble(cells[1]),
                    Double.parseDouble(cells[2]),
                    Double.parseDouble(cells[3]),
                    Double.parseDouble(cells[4]),
                    Double.parseDouble(cells[5])
                };
            }
        }
        assertThat(best).isNotNull();
        return best;
    }

    /** The first number of a text. */
    private static double number(String text) {
        var found = Pattern.compile("[−-]?[0-9]+(\\.[0-9]+)?").matcher(text);
        assertThat(found.find()).as(text).isTrue();
        return Double.parseDouble(found.group().replace('−', '-'));
    }

    private static Locator slider(Page page) {
        return page.getByRole(AriaRole.SLIDER, new Page.GetByRoleOptions().setName(Pattern.compile("Magnitude")));
    }

    @Test
    void everyoneCanUseItInLightAndDarkWideNarrowAndZoomed() {
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (int[] size : new int[][] {{360, 1}, {1280, 1}, {1280, 2}}) {
                Page page = browser.open(link, scheme, size[0], size[1]);
                page.navigate(at("/session/shorted?with=session:repaired"));
                assertThat(page.locator(".laid li").first()).isVisible();
                page.locator(".difference select").selectOption("session:repaired");
                assertThat(page.locator(".difference canvas").first()).isVisible();
                page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })");
                assertThat(page.locator(".all-values td").first()).isAttached();
                assertThat(page.locator(".spectrum").first()).isVisible();
                BenchBrowser.assertFitForAll(page, scheme + ", " + size[0] + " pixels, zoom " + size[1]);
                page.context().close();
            }
        }
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
