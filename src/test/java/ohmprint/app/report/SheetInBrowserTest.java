package ohmprint.app.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import ohmprint.Chromium;
import ohmprint.NeedsPackage;
import ohmprint.app.Progress;
import ohmprint.app.report.HandOverRequest.Form;
import ohmprint.chart.SheetPdf.Paper;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page of a sheet as a browser and a validator see it. */
@Tag("browser")
class SheetInBrowserTest {
    @TempDir
    Path here;

    private Path sheet() throws Exception {
        Path curve = Files.writeString(here.resolve("curve.json"), CurveJson.write(SampleMeasurements.withFindings(3)));
        Path out = here.resolve("sheet.html");
        HandOver.run(
                new HandOverRequest(
                        curve.toString(),
                        null,
                        null,
                        null,
                        HandOverRequest.sound(1.2, null),
                        out,
                        Form.HTML,
                        Paper.A4,
                        Instant.parse("2026-11-25T10:00:00Z")),
                Progress.SILENT);
        return out;
    }

    // Source of the rules: axe-core, WCAG 2.2.
    @Test
    @NeedsPackage("chromium-headless-shell")
    void everyoneCanReadItInLightAndDarkWideAndNarrow() throws Exception {
        String address = sheet().toUri().toString();
        try (Playwright playwright = Chromium.driver();
                Browser browser = Chromium.start(playwright)) {
            // Colours follow from the scheme and the layout from the width alone: each is asked about once.
            for (Map.Entry<ColorScheme, Integer> window :
                    Map.of(ColorScheme.LIGHT, 360, ColorScheme.DARK, 1280).entrySet()) {
                int width = window.getValue();
                Page page = browser.newPage(new Browser.NewPageOptions()
                        .setColorScheme(window.getKey())
                        .setViewportSize(width, 800));
                page.navigate(address);
                assertThat(new AxeBuilder(page).analyze().getViolations())
                        .as("%s, %d pixels", window.getKey(), width)
                        .isEmpty();
                assertThat((Integer) page.evaluate("document.documentElement.scrollWidth"))
                        .as("nothing reaches beyond the page at %d pixels", width)
                        .isLessThanOrEqualTo(width);
                page.close();
            }
        }
    }

    // Source: HTML Tidy, a validator of another origin.
    @Test
    @NeedsPackage("tidy")
    void aValidatorHasNoObjection() throws Exception {
        Process process = new ProcessBuilder("tidy", "-e", "-q", sheet().toString())
                .redirectErrorStream(true)
                .start();
        assertThat(new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8))
                .isEmpty();
        assertThat(process.waitFor()).isZero();
    }
}
