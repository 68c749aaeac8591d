package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Download;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import ohmprint.curve.SampleMeasurements;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The rooms around the bench as a browser shows them. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium")
class RoomsInBrowserTest {
    private static final int HERON = 1;
    private static final String RATED = "{'yaml':'version: 1\\nrated_impedance: {ohm: 150, tolerance_percent: 10}\\n'}";

    /** Opens what is folded; of the tables of values, which are alike, the first. */
    private static final String UNFOLD = "document.querySelectorAll('details:not(.graph-table), figure:first-of-type"
            + " > div > .graph-table').forEach(d => { d.open = true; })";

    private static BenchBrowser browser;

    @TempDir
    Path workspace;

    private Workshop bench;
    private final List<String> ids = new ArrayList<>();
    private final List<Page> windows = new ArrayList<>();

    @BeforeAll
    static void start() {
        browser = BenchBrowser.start();
    }

    @AfterAll
    static void end() {
        browser.close();
    }

    @BeforeEach
    void furnish() throws Exception {
        bench = Workshop.in(workspace);
        Workshop.measured(workspace, "coil", SampleMeasurements.movingCoil());
        for (int n = 1; n <= 3; n++) {
            Workshop.measured(workspace, "heron-" + n, InventedUnits.unit(n, HERON, 3, 0.01));
            ids.add(bench.post("/api/library", "{'curve':'session:heron-" + n + "','operator':'Ada Quill'}")
                    .get("id")
                    .asText());
        }
        Files.copy(Path.of("fixtures/sessions/coil-two-loads/take-1.wav"), workspace.resolve("desk.wav"));
    }

    @AfterEach
    void close() {
        windows.forEach(window -> window.context().close());
        bench.close();
        browser.forgive();
    }

    private Page at(String address) {
        Page page = window(ColorScheme.LIGHT, 1280, 1);
        page.navigate(own(address));
        return page;
    }

    private Page window(ColorScheme scheme, int width, int zoom) {
        Page page = browser.open(bench.link(), scheme, width, zoom);
        windows.add(page);
        return page;
    }

    private String own(String address) {
        return bench.link().replaceFirst("/open.*", "") + address;
    }

    // Source of the rules: axe-core, WCAG 2.2.
    @Test
    void everyRoomFitsForAllInLightAndDarkWideAndNarrow() throws Exception {
        bench.client().send("PUT", "/api/specifications/Heron", RATED.replace('\'', '"'));
        Map<String, String> rooms = new LinkedHashMap<>();
        rooms.put("/", "Begin a session");
        rooms.put("/library", "newest first");
        rooms.put("/library/" + ids.get(0), "For the keeper");
        rooms.put("/compare?curves=library:" + ids.get(0) + ",session:coil", "In words");
        rooms.put("/spread?model=Heron", "As limits for others");
        rooms.put("/like?curve=session:heron-1", "Likest first");
        rooms.put("/check?curve=session:coil&spec=Heron", "What may be behind it");
        rooms.put("/report?curve=session:coil", "Make the report");
        rooms.put(
                "/plan?ohm=300&input=3000&stock=100,220,470&input_tolerance=5&input_pf=0&tolerance=1&drift=0.05"
                        + "&snr=40&seconds=10",
                "Take the best in this order");
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            Page page = window(scheme, scheme == ColorScheme.LIGHT ? 1280 : 360, 1);
            for (Map.Entry<String, String> room : rooms.entrySet()) {
                page.navigate(own(room.getKey()));
                assertThat(page.getByText(room.getValue()).first()).isVisible();
                page.evaluate(UNFOLD);
                BenchBrowser.assertFitForAll(page, scheme + " " + room.getKey());
            }
        }
        Page magnified = window(ColorScheme.LIGHT, 1280, 2);
        magnified.navigate(own("/compare?curves=library:" + ids.get(0) + ",session:coil"));
        assertThat(magnified.getByText("In words")).isVisible();
        BenchBrowser.assertFitForAll(magnified, "magnified");
        browser.assertNoComplaints();
    }

    @Test
    void curvesAreFoundAndComparedByKeyboardAlone() {
        Page page = at("/library");
        Keyboard keyboard = new Keyboard(page);
        assertThat(page.getByText("3 of 3 measurements")).isVisible();
        keyboard.to("Find").writes("heron kl-2");
        assertThat(page.getByText("1 of 1 measurement")).isVisible();
        keyboard.to("Choose Heron unit 2").press("Space");
        keyboard.press("Shift+Tab");
        page.getByLabel("Find").focus();
        keyboard.writes("heron");
        assertThat(page.getByText("3 of 3 measurements")).isVisible();
        keyboard.to("Choose Heron unit 3").press("Space");
        page.getByLabel("Find").focus();
        keyboard.to("Compare").press("Enter");
        assertThat(page.getByText("In words")).isVisible();
        keyboard.to("Frequency in Magnitude").press("Home").press("ArrowRight").press("PageUp");

        // Third octaves above 20 Hz: 25 Hz, 31.5 Hz, and an octave above that 63 Hz. Source: IEC 61260-1, base ten.
        assertThat(page.getByRole(AriaRole.SLIDER).first())
                .hasAttribute("aria-valuetext", Pattern.compile("^63\\.1.Hz: Heron unit 2 .*Ω; Heron unit 3 .*Ω$"));
        page.goBack();
        assertThat(page.getByLabel("Find")).hasValue("heron");
        browser.assertNoComplaints();
    }

    @Test
    void aSessionIsBegunWithTheLoadsThatThePlannerAdvises() throws Exception {
        Page page = at("/");
        Keyboard keyboard = new Keyboard(page);
        page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Begin the session"))
                .press("Enter");
        assertThat(page.getByText("The microphone has no name yet; write")).isVisible();
        keyboard.writes("Shed ribbon");
        keyboard.to("Rated impedance").writes("300");
        keyboard.to("Resistance").writes("3k");
        assertThat(page.getByText("Choose among sets")).isVisible();
        keyboard.to("Choose among sets").press("Enter");
        keyboard.to("Use ").press("Enter");
        String loads = page.getByLabel("Loads").first().inputValue();
        keyboard.to("Begin the session").press("Enter");
        page.waitForURL("**/session/shed-ribbon");

        List<String> planned = new ArrayList<>();
        bench.get("/api/sessions/shed-ribbon")
                .get("planned_ohm")
                .forEach(p -> planned.add(p.asText().replaceAll("\\.0$", "")));
        // The first load once more at the end shows the drift.
        assertThat(planned).hasSizeGreaterThan(2).endsWith(planned.get(0));
        assertThat(String.join(", ", planned.subList(0, planned.size() - 1))).isEqualTo(loads);
        browser.assertNoComplaints();
    }

    @Test
    void recordingsBecomeASessionAndADamagedOneLosesNothing() throws Exception {
        Page page = at("/");
        Path damaged = Files.write(workspace.resolve("../take-2.wav").normalize(), new byte[] {1, 2, 3});
        page.locator("input[type=file]")
                .first()
                .setInputFiles(new Path[] {Path.of("fixtures/sessions/coil-two-loads/take-1.wav"), damaged});
        page.getByRole(AriaRole.REGION, new Page.GetByRoleOptions().setName("Bring recordings in"))
                .getByLabel("What the bench calls")
                .fill("Attic coil");
        page.getByText("Make a session of them").click();
        assertThat(page.getByRole(AriaRole.ALERT)).containsText("take-2.wav cannot be read as audio");
        assertThat(page.locator(".files")).containsText("take-1.wav");
        Files.copy(
                Path.of("fixtures/sessions/coil-two-loads/take-2.wav"), damaged, StandardCopyOption.REPLACE_EXISTING);

        page.getByText("Recordings beside the sessions").scrollIntoViewIfNeeded();
        page.getByLabel("desk.wav").check();
        page.locator("#loose-label").fill("Desk find");
        page.getByText("Begin a session with these").click();
        page.waitForURL("**/session/desk-find");

        assertThat(workspace.resolve("attic-coil/take-1.wav"))
                .hasSameBinaryContentAs(Path.of("fixtures/sessions/coil-two-loads/take-1.wav"));
        assertThat(workspace.resolve("desk-find/desk.wav")).exists();
        assertThat(workspace.resolve("desk.wav")).exists();
        Files.delete(damaged);
    }

    @Test
    void aTextThatIsRefusedStaysAndTheLineIsNamed() {
        Page page = at("/check?curve=session:coil");
        page.getByLabel("a text of my own").check();
        page.getByLabel("Specification, YAML").fill("version: 1\nmask: 3\n");
        page.getByText("Check it").click();
        assertThat(page.locator("#spec-error")).containsText(":2: mask is '3'");
        assertThat(page.getByLabel("Specification, YAML")).hasValue("version: 1\nmask: 3\n");
        assertThat(page.getByLabel("Specification, YAML")).isFocused();
        page.getByLabel("Specification, YAML").fill("version: 1\nrated_impedance: {ohm: 150, tolerance_percent: 10}\n");
        page.getByText("Check it").click();

        assertThat(page.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setName("Outside the limits")))
                .isVisible();
        assertThat(page.getByText("Caution:").first()).isVisible();
    }

    @Test
    void nothingIsRemovedBeforeItWasAsked() throws Exception {
        Page page = at("/library/" + ids.get(1));
        Keyboard keyboard = new Keyboard(page);
        keyboard.to("Remove it").press("Enter");
        keyboard.to("Remove it …").press("Enter");
        assertThat(page.getByText("Give the reason; it stays in the record.")).isVisible();
        keyboard.writes("another unit");
        keyboard.to("Remove it …").press("Enter");
        assertThat(page.getByRole(AriaRole.DIALOG)).containsText("another unit");
        keyboard.press("Escape");
        assertThat(bench.get("/api/library").get("total").asInt()).isEqualTo(3);
        page.keyboard().press("Enter");
        page.getByRole(AriaRole.DIALOG).getByText("Remove it for good").press("Enter");
        page.waitForURL("**/library");

        assertThat(page.getByText("2 of 2 measurements")).isVisible();
        assertThat(bench.get("/api/library").get("total").asInt()).isEqualTo(2);
        browser.assertNoComplaints();
    }

    @Test
    void theReportIsAPdfAndARefusalIsToldInWords() throws Exception {
        Page page = at("/report?curve=library:" + ids.get(2));
        Download sheet =
                page.waitForDownload(() -> page.getByText("Make the report").press("Enter"));
        assertThat(sheet.suggestedFilename()).isEqualTo("heron-unit-3.pdf");
        assertThat(new String(Files.readAllBytes(sheet.path()), 0, 5, StandardCharsets.ISO_8859_1))
                .isEqualTo("%PDF-");
        browser.assertNoComplaints();
        bench.post("/api/library/" + ids.get(2) + "/remove", "{'reason':'another unit'}");
        page.getByText("Make the report").press("Enter");
        assertThat(page.getByRole(AriaRole.ALERT)).containsText(ids.get(2));
    }
}
