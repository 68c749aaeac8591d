package ohmprint.web;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;

/** For each test a workspace with four measured sessions, three of them in the library, and a recording beside them. */
@Tag("browser")
abstract class FurnishedRooms {
    private static final int HERON = 1;

    static BenchBrowser browser;

    @TempDir
    Path workspace;

    Workshop bench;
    final List<String> ids = new ArrayList<>();
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

    /** A window at an address. */
    Page at(String address) {
        Page page = window(ColorScheme.LIGHT, 1280, 1);
        page.navigate(own(address));
        return page;
    }

    /** A window, see {@link BenchBrowser#open}. */
    Page window(ColorScheme scheme, int width, int zoom) {
        Page page = browser.open(bench.link(), scheme, width, zoom);
        windows.add(page);
        return page;
    }

    /** A window that is used with fingers, at an address. */
    Page touched(String address) {
        Page page = browser.openForFingers(bench.link());
        windows.add(page);
        page.navigate(own(address));
        return page;
    }

    /** One more session, with the takes of a fixture, that was measured through the page. */
    void measure(String name, Path fixture) throws Exception {
        OpenPage.copied(fixture, workspace.resolve(name));
        bench.post("/api/sessions/" + name + "/measure", "{}");
    }

    /** An address of this page as a whole. */
    String own(String address) {
        return bench.link().replaceFirst("/open.*", "") + address;
    }
}
