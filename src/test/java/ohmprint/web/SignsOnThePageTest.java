package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What the page shows of states that a person would else have to guess. */
@Tag("browser")
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class SignsOnThePageTest extends RibbonAndOutside {
    /** Least contrast of text. Source: WCAG 2.2, success criterion 1.4.3. */
    private static final double LEGIBLE = 4.5;

    private static final Pattern RGB = Pattern.compile("rgba?\\((\\d+), (\\d+), (\\d+)");
    private static BenchBrowser browser;

    private final List<Page> windows = new ArrayList<>();

    @BeforeAll
    static void start() {
        browser = BenchBrowser.start();
    }

    @AfterAll
    static void end() {
        browser.close();
    }

    /** A window that outlives its page would complain that nobody answers. */
    @AfterEach
    void leave() {
        windows.forEach(window -> window.context().close());
        browser.forgive();
    }

    private Page opened(ColorScheme scheme, String path) {
        Page window = browser.open(page.page().link(), scheme, 1280, 1);
        windows.add(window);
        window.navigate(client.base() + path);
        return window;
    }

    private Page session() {
        return opened(ColorScheme.LIGHT, "/session/ribbon");
    }

    private void measure() throws Exception {
        client.good("POST", "/api/sessions/ribbon/measure", "{}");
    }

    private static Locator textbox(Page window, String name) {
        return window.getByRole(
                AriaRole.TEXTBOX, new Page.GetByRoleOptions().setName(name).setExact(true));
    }

    private static Locator button(Page window, String name) {
        return window.getByRole(
                AriaRole.BUTTON, new Page.GetByRoleOptions().setName(name).setExact(true));
    }

    @Test
    void aRejectedTakeIsNotWorkOnTopOfTheList() throws Exception {
        Path ribbon = workspace.resolve("ribbon");
        Files.copy(ribbon.resolve("take-1.wav"), ribbon.resolve("take-4.repeated-1.wav"));
        Files.copy(ribbon.resolve("take-1.wav"), ribbon.resolve("brought.wav"));
        Page window = session();

        assertThat(window.locator(".take-list .take")).hasCount(3);
        assertThat(window.locator(".loose .asks:visible")).hasCount(1);
        assertThat(window.locator(".loose .asks:visible h3")).hasText("brought.wav");
        assertThat(window.locator("details.aside summary").first()).hasText("Rejected or incomplete: 1 file");
        assertThat(window.locator("details.aside .asks h3")).hasText("take-4.repeated-1.wav");
        browser.assertNoComplaints();
    }

    @ParameterizedTest
    @EnumSource(
            value = ColorScheme.class,
            names = {"LIGHT", "DARK"})
    void whileDevicesAreExaminedThePageSaysSoLegibly(ColorScheme scheme) throws Exception {
        Path take = workspace.resolve("ribbon/session.yaml");
        Files.writeString(take, Files.readString(take).replaceFirst("(?s)takes:.*", "takes: []"));
        Page window = opened(scheme, "/session/ribbon");
        List<Route> held = new ArrayList<>();
        window.route("**/api/devices", held::add);
        Locator record = button(window, "Record with this computer");

        // By mouse, which then rests on the button.
        record.click();

        assertThat(window.locator(".recorder .examining")).hasText(Pattern.compile("Examining the sound devices.*"));
        assertThat(record).hasAttribute("aria-disabled", "true");
        assertThat(contrast(record)).isGreaterThan(LEGIBLE);
        assertThat(contrast(window.locator(".recorder .examining"))).isGreaterThan(LEGIBLE);
        held.forEach(Route::resume);
        assertThat(button(window, "Set it up")).isVisible();
        assertThat(window.locator(".recorder .examining")).hasCount(0);
    }

    /** Contrast of an element's text with what is painted behind it. Source of the formula: WCAG 2.2, relative luminance. */
    private static double contrast(Locator text) {
        String colour = (String) text.evaluate("node => getComputedStyle(node).color");
        String behind =
                (String) text.evaluate("node => { let n = node; const of = (x) => getComputedStyle(x).backgroundColor;"
                        + " while (/, 0\\)$/.test(of(n))) n = n.parentElement; return of(n); }");
        double a = luminance(colour);
        double b = luminance(behind);
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    }

    private static double luminance(String rgb) {
        var found = RGB.matcher(rgb);
        assertThat(found.find()).as(rgb).isTrue();
        double[] share = new double[3];
        for (int i = 0; i < 3; i++) {
            double c = Integer.parseInt(found.group(i + 1)) / 255.0;
            share[i] = c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4);
        }
        return 0.2126 * share[0] + 0.7152 * share[1] + 0.0722 * share[2];
    }

    /** The meter by itself, because its levels come and go faster than a test can look. */
    private Page meter() {
        Page window = session();
        window.waitForSelector(".recorder");
        window.evaluate("async () => { const { meter } = await import('/page/meter.js');"
                + " const made = meter({ watchLevel: (f) => { window.level = f; }, watch: (f) => { window.state = f; } });"
                + " document.querySelector('.recorder-body').replaceChildren(made.node); }");
        return window;
    }

    private static void level(Page window, double share, double dbfs) {
        window.evaluate(
                "([share, db]) => window.level({ share, peak_dbfs: db, rms_dbfs: db - 3 })", List.of(share, dbfs));
    }

    private static double edge(Page window, String selector, String side) {
        return ((Number) window.locator(selector).first().evaluate("(n, s) => n.getBoundingClientRect()[s]", side))
                .doubleValue();
    }

    @Test
    void theMeterHasAScaleInDbfsThatItsBarFollows() {
        Page window = meter();
        double left = edge(window, ".meter", "left");
        double width = edge(window, ".meter", "right") - left;
        assertThat(window.locator(".meter-scale")).containsText("dBFS");
        for (int db : new int[] {-40, -20}) {
            assertThat(window.locator(".meter-tick[data-db='" + db + "']")).hasText("−" + -db);
        }
        for (int db : new int[] {-50, -40, -30, -20, -10}) {
            double middle = (edge(window, ".meter-tick[data-db='" + db + "']", "left")
                            + edge(window, ".meter-tick[data-db='" + db + "']", "right"))
                    / 2;
            level(window, 0.1, db);
            double bar = edge(window, ".meter-bar", "right");
            assertThat(middle).as("tick at %d dBFS", db).isCloseTo(bar, within(3.0));
            assertThat(middle).isCloseTo(left + width * (db + 60) / 60.0, within(3.0));
        }
    }

    @Test
    void labelsOfTheScaleDoNotCollideInANarrowWindow() {
        Page window = meter();
        window.setViewportSize(360, 800);
        double before = Double.NEGATIVE_INFINITY;
        for (Locator tick : window.locator(".meter-tick:not(:empty)").all()) {
            double left = ((Number) tick.evaluate("n => n.getBoundingClientRect().left")).doubleValue();
            assertThat(left).isGreaterThan(before);
            before = ((Number) tick.evaluate("n => n.getBoundingClientRect().right")).doubleValue();
        }
        assertThat(before).isLessThan(360);
    }

    @Test
    void theMeterIsRedFromAClipUntilTheNextTake() {
        Page window = meter();
        level(window, 0.1, -12);
        String calm = colour(window, ".meter-bar");
        level(window, 0.2, 0);
        String red = colour(window, ".meter-bar");
        level(window, 0.3, -12);

        var rgb = RGB.matcher(red);
        assertThat(rgb.find()).isTrue();
        assertThat(Integer.parseInt(rgb.group(1)))
                .as("red: %s", red)
                .isGreaterThan(2 * Integer.parseInt(rgb.group(2)))
                .isGreaterThan(2 * Integer.parseInt(rgb.group(3)));
        assertThat(calm).isNotEqualTo(red);
        assertThat(colour(window, ".meter-bar")).isEqualTo(red);
        assertThat(window.locator(".lamp")).hasText("CLIPPED");
        level(window, 0.05, -12);
        assertThat(colour(window, ".meter-bar")).isEqualTo(calm);
        assertThat(window.locator(".lamp")).hasText("clip");
    }

    private static String colour(Page window, String selector) {
        return (String) window.locator(selector).evaluate("n => getComputedStyle(n).backgroundColor");
    }

    @Test
    void barsOfTheUncertaintyBudgetAreAsLongAsThePercentagesSay() throws Exception {
        measure();
        Page window = session();
        assertThat(window.locator(".budget li").first()).isVisible();

        int compared = 0;
        for (Locator row : window.locator(".budget li").all()) {
            String words = row.locator(".budget-words").innerText();
            double bar = ((Number) row.locator(".budget-bar").evaluate("n => n.getBoundingClientRect().width"))
                    .doubleValue();
            double all = ((Number) row.locator(".budget-room").evaluate("n => n.getBoundingClientRect().width"))
                    .doubleValue();
            var percent = Pattern.compile(", (<?) ?([0-9.]+) %").matcher(words);
            assertThat(percent.find()).as(words).isTrue();
            assertThat(100 * bar / all).as(words).isCloseTo(Double.parseDouble(percent.group(2)), within(1.5));
            compared++;
        }
        assertThat(compared).isGreaterThanOrEqualTo(3);
    }

    @Test
    void afterTakeOutTheCurveIsMarkedAsOutOfDateAlsoAfterAReload() throws Exception {
        measure();
        Page window = session();
        Locator old = window.locator(".curve .finding:visible", new Page.LocatorOptions().setHasText("out of date"));
        Locator badge =
                window.locator(".curve-head .word.warn:visible", new Page.LocatorOptions().setHasText("out of date"));
        assertThat(window.locator(".curve canvas").first()).isVisible();
        assertThat(badge).hasCount(0);

        client.delete("/api/sessions/ribbon/takes/take-3.wav");
        assertThat(old).isVisible();
        assertThat(badge).isVisible();
        window.reload();
        assertThat(window.locator(".curve canvas").first()).isVisible();
        assertThat(old).isVisible();
        assertThat(badge).isVisible();
        Page compared = browser.second(window, client.base() + "/compare?curves=session:ribbon");
        assertThat(compared.locator(".chosen-curves")).containsText("out of date");

        measure();
        assertThat(old).hasCount(0);
        assertThat(badge).hasCount(0);
        browser.assertNoComplaints();
    }

    @Test
    void anUnknownAddressShowsAPageWithAWayBack() {
        Page window = opened(ColorScheme.LIGHT, "/");
        var answer = window.navigate(client.base() + "/foo");

        assertThat(answer.status()).isEqualTo(404);
        assertThat(window.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setLevel(1)))
                .hasText("Page not found");
        assertThat(window.locator("main")).containsText("There is no page at /foo.");
        BenchBrowser.assertFitForAll(window, "/foo");
        window.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Go to the workspace"))
                .click();
        assertThat(window.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setLevel(1)))
                .not()
                .hasText("Page not found");
        assertThat(BenchBrowser.path(window)).isEqualTo("/");
    }

    @Test
    void aReportOfBeforeAndAfterWarnsOfTwoMicrophones() throws Exception {
        Path other =
                OpenPage.copied(OpenPage.RIBBON, workspace.resolve("other")).resolve("session.yaml");
        Files.writeString(other, Files.readString(other).replace("label: Bench ribbon 9", "label: Another ribbon"));
        measure();
        client.good("POST", "/api/sessions/other/measure", "{}");
        Page window = opened(ColorScheme.LIGHT, "/report?curve=session:ribbon");
        window.getByLabel("Compare with an earlier curve of it").selectOption("session:other");

        assertThat(window.locator("form .finding")).containsText("two different microphones");

        window.getByLabel("Compare with an earlier curve of it").selectOption("");
        assertThat(window.locator("form .finding")).hasCount(0);
        window.navigate(client.base() + "/compare?curves=session:ribbon,session:other");
        assertThat(window.locator(".finding")).containsText("two different microphones");
        browser.assertNoComplaints();
    }

    @Test
    void theSourceOfEquivalentInputNoiseStandsBesideIt() throws Exception {
        measure();
        Page window = session();
        window.getByText("Cable, capacitance, level and noise").click();
        assertThat(window.locator(".load-control .hint", new Page.LocatorOptions().setHasText("EIN")))
                .hasText("EIN with a source of 150\u202fΩ; may stay empty");
        window.getByLabel("Sensitivity").fill("1.5");
        window.getByLabel("Preamplifier").fill("-128");

        assertThat(window.locator(".load-now")).containsText("EIN −128.0 dBu with a source of 150 Ω (assumed)");
    }

    @Test
    void aSecondKeepByAnotherSaysWhatWasNotSaved() throws Exception {
        measure();
        Page window = opened(ColorScheme.LIGHT, "/");
        for (Map.Entry<String, String> each :
                List.of(Map.entry("Ada Quill", "first"), Map.entry("Bo Finch", "second"))) {
            window.navigate(client.base() + "/library?add=session:ribbon");
            textbox(window, "Measured by").fill(each.getKey());
            textbox(window, "Note").fill(each.getValue());
            button(window, "Keep it").click();
            assertThat(window.locator("p[role=status] a")).isVisible();
        }

        assertThat(window.locator("p[role=status]", new Page.LocatorOptions().setHasText("held it already")))
                .containsText("operator 'Bo Finch' and note 'second' were not saved");
        browser.assertNoComplaints();
    }
}
