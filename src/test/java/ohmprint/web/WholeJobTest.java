package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.Download;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.NeedsPackage;
import ohmprint.loopback.Program;
import ohmprint.loopback.SimulatedBench;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/**
 * The whole job in a browser, by keyboard alone: from an empty folder over a real sound server with a simulated room,
 * microphone and load to a report on paper.
 */
@Isolated("sound and a browser want the computer for themselves")
@NeedsPackage({"chromium-headless-shell", "pulseaudio", "pulseaudio-utils", "libasound2-plugins", "poppler-utils"})
@Tag("sound")
@Tag("browser")
class WholeJobTest {
    private static final double SLOW_MS = 60_000;
    private static final int MOST_ASKED = 30;
    private static final Pattern OHMS = Pattern.compile("Fit ([0-9.]+)\\h(k?)Ω");

    @TempDir
    Path dir;

    @Test
    void fromAnEmptyFolderToAReportByKeyboardAlone() throws Exception {
        Path workspace = dir.resolve("workspace");
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), 1500);
                Program program = BenchBrowser.bench(bench.server().environment(), workspace);
                BenchBrowser browser = BenchBrowser.start()) {
            Page page = browser.open(program.line());
            page.context().setDefaultTimeout(SLOW_MS);
            begin(page);
            assertThat(page.locator("h1")).hasText("Bench coil 4");
            setUp(page);
            record(page, bench);
            double truth = SimulatedBench.COIL.impedance(1000).abs();
            double shown = Double.parseDouble(page.locator(".station.microphone .found strong")
                    .innerText()
                    .split(" ")[0]);
            assertThat(shown).isCloseTo(truth, within(0.01 * truth));
            assertThat(workspace.resolve("bench-coil-4/result/curve.csv")).exists();

            BenchBrowser.press(page, AriaRole.LINK, "Report");
            assertThat(page.locator("h1")).containsText("Report");
            Download report = page.waitForDownload(() -> BenchBrowser.press(page, AriaRole.BUTTON, "Make the report"));
            assertThat(text(report.path())).contains("Bench coil 4");
            page.goBack();
            assertThat(page.locator("h1")).hasText("Bench coil 4");
            browser.assertNoComplaints();
        }
    }

    private static void begin(Page page) {
        BenchBrowser.write(page, "What the bench calls it", "Bench coil 4");
        BenchBrowser.write(page, "Rated impedance", "200");
        BenchBrowser.write(page, "Resistance", "3000");
        BenchBrowser.write(page, "Tolerance", "0.1");
        BenchBrowser.write(page, "Capacitance with the cable", "470");
        BenchBrowser.write(page, "Loads", "150, 1500");
        page.keyboard().press("Tab");
        page.keyboard().press("ControlOrMeta+A");
        page.keyboard().type("0.02");
        BenchBrowser.press(page, AriaRole.BUTTON, "Begin the session");
    }

    private static void setUp(Page page) {
        BenchBrowser.press(page, AriaRole.BUTTON, "Record with this computer");
        BenchBrowser.tabTo(page, page.getByText("Sound and sample rate"));
        page.keyboard().press("Enter");
        BenchBrowser.write(page, "Length", "2");
        BenchBrowser.press(page, AriaRole.BUTTON, "Set it up");
    }

    /** The focus goes where the next thing is to be done; this fits what the page asks for and presses Enter there. */
    private static void record(Page page, SimulatedBench bench) throws Exception {
        int curves = 0;
        List<String> story = new ArrayList<>();
        for (int i = 0; i < MOST_ASKED; i++) {
            // While sound runs the focus is on the button that breaks it off; a busy button is not the next thing
            // either.
            Locator here = page.locator("button:focus:not([aria-disabled]):not(.danger)");
            here.waitFor();
            assertThat(here)
                    .hasText(Pattern.compile(
                            "I have read this|Play and listen|Take it at this level|It is fitted.*|Keep|Repeat"));
            String asked = here.innerText();
            story.add(asked + " after " + page.locator(".take.waits .finding").allInnerTexts());
            Matcher ohms = OHMS.matcher(
                    page.locator(".prompt").count() == 0
                            ? ""
                            : page.locator(".prompt").innerText());
            if (ohms.find()) {
                bench.fit(Double.parseDouble(ohms.group(1)) * (ohms.group(2).isEmpty() ? 1 : 1000));
            }
            if (asked.equals("Take it at this level")) {
                assertThat(page.locator(".level-report")).containsText(Pattern.compile("To expect: ± [0-9.]+.%"));
            }
            page.keyboard().press("Enter");
            if (asked.equals("Keep")) {
                curves++;
                Locator takes = page.locator(".take-list > li");
                assertThat(takes).hasCount(curves);
                if (curves == 2) {
                    assertThat(page.locator(".curve canvas").first()).isVisible();
                }
                if (curves == 3) {
                    assertThat(page.locator(".recorder")).containsText("All takes are recorded.");
                    assertThat(page.locator(".curve-head"))
                            .containsText(Pattern.compile("150\\sΩ, 1\\.5\\skΩ, 150\\sΩ"));
                    return;
                }
            }
        }
        throw new AssertionError("the page asked for more than thirty things: " + String.join("\n", story));
    }

    /** What a reader of another origin finds in a PDF. */
    private static String text(Path pdf) throws Exception {
        assertThat(Files.readAllBytes(pdf)).startsWith("%PDF-".getBytes(StandardCharsets.US_ASCII));
        Process process = new ProcessBuilder("pdftotext", pdf.toString(), "-").start();
        return new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    }
}
