package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Recordings and folders that are carried onto the page with the mouse. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class BroughtByMouseTest extends FurnishedRooms {
    private static final Path COIL = Path.of("fixtures/sessions/coil-two-loads");
    private static final Pattern OVER = Pattern.compile("(^| )over( |$)");

    private static Locator place(Page page) {
        return page.getByRole(AriaRole.GROUP, new Page.GetByRoleOptions().setName("Bring files"));
    }

    @Test
    void droppedRecordingsBecomeTakesOnceTheirLoadsAreSaid() throws Exception {
        bench.post(
                "/api/sessions",
                "{'name':'attic','microphone':{'label':'Attic coil'},'input':{'resistance_ohm':3000},'loads':null}");
        Page page = at("/session/attic");
        Hands hands = new Hands(page);
        hands.carry(place(page), COIL.resolve("take-1.wav"), COIL.resolve("take-2.wav"));
        assertThat(place(page)).hasClass(OVER);
        hands.drop(place(page), COIL.resolve("take-1.wav"), COIL.resolve("take-2.wav"), COIL.resolve("ABOUT.md"));
        assertThat(place(page)).not().hasClass(OVER);
        assertThat(place(page)).containsText("1 file left out");

        for (String[] take : new String[][] {{"take-1.wav", "150"}, {"take-2.wav", "1k5"}}) {
            Locator card =
                    page.getByRole(AriaRole.GROUP, new Page.GetByRoleOptions().setName(take[0] + ", no take yet"));
            card.getByLabel("Which load is this?").fill(take[1]);
            card.getByText("Put it in").click();
            assertThat(page.locator(".take-list")).containsText(take[0]);
        }

        var takes = bench.get("/api/sessions/attic").path("takes");
        assertThat(takes.findValuesAsText("file")).containsExactlyInAnyOrder("take-1.wav", "take-2.wav");
        assertThat(takes.findValuesAsText("load_ohm")).containsExactlyInAnyOrder("150.0", "1500.0");
        assertThat(workspace.resolve("attic/take-2.wav")).hasSameBinaryContentAs(COIL.resolve("take-2.wav"));
        browser.assertNoComplaints();
    }

    @Test
    void aDroppedFolderBecomesTheSessionThatItIs() throws Exception {
        Page page = at("/");
        new Hands(page).drop(place(page), COIL);
        assertThat(page.getByText("session.yaml is among them")).isVisible();
        assertThat(page.locator(".files li")).hasCount(4);
        page.getByText("Make a session of them").click();
        page.waitForURL("**/session/coil-two-loads");

        assertThat(page.locator(".take-list")).containsText("take-2.wav");
        assertThat(bench.get("/api/sessions/coil-two-loads").path("problem").isNull())
                .isTrue();
        assertThat(workspace.resolve("coil-two-loads/stimulus.wav"))
                .hasSameBinaryContentAs(COIL.resolve("stimulus.wav"));
        assertThat(workspace.resolve("coil-two-loads/truth.csv")).doesNotExist();
        browser.assertNoComplaints();
    }

    /** A browser hands out at most a hundred files of a folder at a time. */
    @Test
    void aFolderOfMoreThanAHundredFilesIsReadToItsEnd(@TempDir Path elsewhere) throws Exception {
        Path folder = Files.createDirectories(elsewhere.resolve("many"));
        for (int i = 0; i < 120; i++) {
            Files.writeString(folder.resolve("note-" + i + ".txt"), "a note");
        }
        Files.createDirectories(folder.resolve("deeper"));
        Files.copy(COIL.resolve("take-1.wav"), folder.resolve("deeper/take-9.wav"));
        Files.copy(COIL.resolve("take-1.wav"), folder.resolve("zz-take.wav"));
        Page page = at("/");
        new Hands(page).drop(place(page), folder);

        assertThat(page.getByText("120 other files stay")).isVisible();
        assertThat(page.locator(".files li")).hasCount(1);
        assertThat(page.locator(".files li")).containsText("zz-take.wav");
        assertThat(page.getByRole(AriaRole.REGION, new Page.GetByRoleOptions().setName("Bring recordings in"))
                        .getByLabel("What the bench calls"))
                .hasValue("many");
    }

    @Test
    void aChosenFolderBecomesTheSessionThatItIs() {
        Page page = at("/");
        page.locator("input[type=file][webkitdirectory]").setInputFiles(COIL);
        assertThat(page.getByText("session.yaml is among them")).isVisible();
        page.getByText("Make a session of them").click();
        page.waitForURL("**/session/coil-two-loads");

        assertThat(page.locator(".take-list")).containsText("take-1.wav");
        assertThat(workspace.resolve("coil-two-loads/session.yaml"))
                .hasSameTextualContentAs(COIL.resolve("session.yaml"));
        browser.assertNoComplaints();
    }

    /** Without care a browser opens what is let go beside the place for it, and the page with all that was written is gone. */
    @Test
    void whatIsLetGoBesideThePlaceDoesNotTakeThePageAway() {
        Page page = at("/");
        page.locator("#main").getByLabel("What the bench calls it").fill("Shed ribbon");
        new Hands(page)
                .drop(
                        page.getByRole(AriaRole.HEADING, new Page.GetByRoleOptions().setName("Workspace")),
                        COIL.resolve("take-1.wav"));

        assertThat(page.locator("#main").getByLabel("What the bench calls it")).hasValue("Shed ribbon");
        assertThat(page.locator(".files")).hasCount(0);
        assertThat(page.getByText("Files are taken where a dashed line")).isVisible();
    }
}
