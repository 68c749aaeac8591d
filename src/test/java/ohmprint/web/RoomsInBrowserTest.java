package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Download;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** What is done in the rooms around the bench, in a browser. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class RoomsInBrowserTest extends FurnishedRooms {
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

    @Test
    void aMicrophoneWithoutAModelIsToldByItsTransducerInWords() throws Exception {
        measure("attic", Path.of("fixtures/sessions/coil-two-loads"));
        bench.post("/api/library", "{'curve':'session:attic'}");
        Page page = at("/library");
        Locator row = page.getByRole(AriaRole.ROW).filter(new Locator.FilterOptions().setHasText("Workshop coil 3"));

        assertThat(row).containsText("moving coil");
        assertThat(row).not().containsText("not stated");
    }

    /** Widths at which a line would end somewhere within the date, too. */
    @Test
    void aDateIsNotBrokenInANarrowWindow() {
        Page page = window(ColorScheme.LIGHT, 360, 1);
        page.navigate(own("/"));
        assertThat(page.locator(".session .whole")).hasCount(4);

        for (int width = 280; width <= 440; width += 20) {
            page.setViewportSize(width, 900);
            assertThat(page.evaluate(
                            "[...document.querySelectorAll('.session .whole')].map(n => n.getClientRects().length)"))
                    .as("%d pixels", width)
                    .isEqualTo(List.of(1, 1, 1, 1));
        }
    }
}
