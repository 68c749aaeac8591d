package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import ohmprint.loopback.Program;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;

/** Two stored sessions that were measured on the page of a program of its own, and a browser before it. */
@Tag("browser")
abstract class StoredSessions {
    static final Path FIXTURES = Path.of("fixtures/sessions");
    private static final String THIRDS = "3";

    @TempDir
    static Path dir;

    static BenchBrowser browser;
    private static Program program;
    static String link;

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

    static String at(String path) {
        return link.substring(0, link.indexOf("/open")) + path;
    }

    static Page session(String query) {
        Page page = browser.open(link);
        page.navigate(at("/session/repaired" + query));
        assertThat(page.locator(".curve canvas").first()).isVisible();
        return page;
    }

    /** Row of {@code curve.csv} at the band next to a frequency: frequency, magnitude, phase, resistance, reactance, u95 of |Z|. */
    static double[] written(String name, double hz) throws Exception {
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
    static double number(String text) {
        var found = Pattern.compile("[−-]?[0-9]+(\\.[0-9]+)?").matcher(text);
        assertThat(found.find()).as(text).isTrue();
        return Double.parseDouble(found.group().replace('−', '-'));
    }
}
