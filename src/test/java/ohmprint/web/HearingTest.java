package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.io.ByteArrayInputStream;
import java.nio.file.Files;
import java.util.regex.Pattern;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** A take is heard on the page as it would sound into another load. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class HearingTest extends FurnishedRooms {
    private Page ribbon(String load) throws Exception {
        measure("ribbon", OpenPage.RIBBON);
        Page page = at("/session/ribbon?load=" + load);
        assertThat(page.locator(".audition select")).hasValue("take-1.wav");
        return page;
    }

    private static Locator ready(Page page) {
        return page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Make it ready to play"));
    }

    /** A number that the player tells of itself; not a number as long as nothing was loaded. */
    private static double player(Page page, String what) {
        return ((Number) page.evaluate("Number(document.querySelector('audio')." + what + " ?? NaN)")).doubleValue();
    }

    /** What the player is given, as an address, and as the server answers it. */
    private PageClient.Answer source(Page page) throws Exception {
        String source = page.locator("audio").getAttribute("src");
        assertThat(source).startsWith("/api/sessions/ribbon/audition?");
        PageClient.Answer answer = bench.client().get(source);
        assertThat(answer.header("content-type")).isEqualTo("audio/wav");
        return answer;
    }

    private static double seconds(PageClient.Answer wav) throws Exception {
        try (AudioInputStream sound = AudioSystem.getAudioInputStream(
                new ByteArrayInputStream(wav.response().body()))) {
            return sound.getFrameLength() / (double) sound.getFormat().getSampleRate();
        }
    }

    @Test
    void aTakePlaysIntoTheChosenLoadAndIntoAnotherOneDifferently() throws Exception {
        Page page = ribbon("600");
        assertThat(page.locator("audio")).isHidden();
        ready(page).click();
        page.waitForCondition(() -> player(page, "currentTime") > 0.05);
        PageClient.Answer low = source(page);
        assertThat(player(page, "duration")).isCloseTo(seconds(low), within(0.01));
        assertThat(page.locator(".audition .hint")).hasText(Pattern.compile("take-1\\.wav into 600.Ω"));

        page.getByLabel("Load", new Page.GetByLabelOptions().setExact(true))
                .last()
                .fill("10k");
        assertThat(page.locator(".audition")).containsText("The load has changed since");
        ready(page).click();
        assertThat(page.locator("audio")).hasAttribute("src", Pattern.compile("load_ohm=10000(&|$)"));
        page.waitForCondition(() -> player(page, "duration") > 0);
        PageClient.Answer high = source(page);

        assertThat(seconds(high)).isCloseTo(seconds(low), within(0.1));
        assertThat(high.response().body()).isNotEqualTo(low.response().body());
        browser.assertNoComplaints();
    }

    @Test
    void whatCannotBePlayedIsToldInWords() throws Exception {
        Page page = ribbon("600");
        Files.delete(workspace.resolve("ribbon/take-1.wav"));
        ready(page).click();

        assertThat(page.locator(".audition > .hint .error")).containsText("take-1.wav");
        assertThat(page.locator("audio")).isHidden();
        assertThat(ready(page)).isVisible();
    }
}
