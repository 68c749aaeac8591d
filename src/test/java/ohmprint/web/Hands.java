package ohmprint.web;

import com.google.gson.Gson;
import com.microsoft.playwright.CDPSession;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.BoundingBox;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * What hands do to a page that the driver has no words for: a finger that goes along a screen, and files or folders that
 * are carried over the window with the mouse and let go. Both are events of the browser itself, from the Chrome DevTools
 * Protocol, domain Input, so that the page meets what it meets with a person.
 */
final class Hands {
    private static final int STEPS = 8;
    private static final int COPY = 1;
    private static final Gson GSON = new Gson();

    private final CDPSession session;

    Hands(Page page) {
        this.session = page.context().newCDPSession(page);
    }

    /** Goes along an element with one finger, from one part of its width to another (0 at its left, 1 at its right). */
    void drag(Locator over, double from, double to) {
        BoundingBox box = still(over);
        double y = box.y + box.height / 2;
        touch("touchStart", List.of(Map.of("x", box.x + from * box.width, "y", y)));
        for (int i = 1; i <= STEPS; i++) {
            double x = box.x + (from + (to - from) * i / STEPS) * box.width;
            touch("touchMove", List.of(Map.of("x", x, "y", y)));
        }
        touch("touchEnd", List.of());
    }

    /** Where an element is once it can be reached and has come to rest, as the driver decides it for a mouse. */
    private static BoundingBox still(Locator over) {
        over.hover(new Locator.HoverOptions().setTrial(true));
        return over.boundingBox();
    }

    private void touch(String kind, List<Map<String, Double>> points) {
        send("Input.dispatchTouchEvent", Map.of("type", kind, "touchPoints", points));
    }

    /** Carries files or folders over an element; they are not let go yet. */
    void carry(Locator over, Path... files) {
        mouse("dragEnter", over, files);
        mouse("dragOver", over, files);
    }

    /** Carries files or folders to an element and lets them go. */
    void drop(Locator over, Path... files) {
        carry(over, files);
        mouse("drop", over, files);
    }

    private void mouse(String kind, Locator over, Path... files) {
        BoundingBox box = still(over);
        List<String> names =
                Stream.of(files).map(f -> f.toAbsolutePath().toString()).toList();
        send(
                "Input.dispatchDragEvent",
                Map.of(
                        "type",
                        kind,
                        "x",
                        box.x + box.width / 2,
                        "y",
                        box.y + box.height / 2,
                        "data",
                        Map.of("items", List.of(), "files", names, "dragOperationsMask", COPY)));
    }

    private void send(String method, Map<String, Object> what) {
        session.send(method, GSON.toJsonTree(what).getAsJsonObject());
    }
}
