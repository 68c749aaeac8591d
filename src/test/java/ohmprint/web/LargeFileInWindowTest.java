package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** A window before a page that takes in a megabyte at most. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
@Tag("browser")
class LargeFileInWindowTest extends RibbonAndOutside {
    @Test
    void aFileThatIsTooLargeIsNamedAndNotEvenSent() throws Exception {
        Path large = outside.resolve("large.wav");
        Files.write(large, new byte[2 * MOST + 1]);
        Path small = outside.resolve("small.wav");
        Files.copy(Path.of("fixtures/sessions/ribbon-repaired/take-1.wav"), small);
        try (BenchBrowser browser = BenchBrowser.start()) {
            Page window = browser.open(page.page().link());
            window.navigate(client.base() + "/session/ribbon");
            List<String> sent = new ArrayList<>();
            window.onRequest(request -> {
                if (request.method().equals("PUT")) {
                    sent.add(request.url());
                }
            });
            Locator place = window.getByRole(AriaRole.GROUP, new Page.GetByRoleOptions().setName("Bring files"));

            new Hands(window).drop(place, large, small);

            assertThat(place.locator(".error"))
                    .hasText("large.wav has 3 MB, and this window sends 1 MB at most; copy it into the folder of the"
                            + " session, or take it in on the command line.");
            assertThat(window.getByRole(AriaRole.GROUP, new Page.GetByRoleOptions().setName("small.wav, no take yet")))
                    .isVisible();
            assertThat(sent).singleElement().asString().endsWith("/files/small.wav");
            assertThat(workspace.resolve("ribbon/large.wav")).doesNotExist();
            browser.assertNoComplaints();
        }
    }
}
