package ohmprint.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Whether everybody can use the rooms around the bench, whatever they see by. */
@Execution(ExecutionMode.SAME_THREAD)
@NeedsPackage("chromium-headless-shell")
class RoomsForAllTest extends FurnishedRooms {
    private static final String RATED = "{'yaml':'version: 1\\nrated_impedance: {ohm: 150, tolerance_percent: 10}\\n'}";

    /** Opens what is folded; of the tables of values, which are alike, the first. */
    private static final String UNFOLD = "document.querySelectorAll('details:not(.graph-table), figure:first-of-type"
            + " > div > .graph-table').forEach(d => { d.open = true; })";

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
}
