package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;

/**
 * One who uses a page by keyboard alone.
 *
 * @param page the page
 */
record Keyboard(Page page) {
    private static final int FARTHEST = 90;

    /** What a screen reader would call what has the focus, roughly: its label or text. */
    private static final String NAME = "(() => { const e = document.activeElement;"
            + " return (e.getAttribute('aria-label') || (e.labels && e.labels[0] && e.labels[0].innerText)"
            + " || e.innerText || '').trim(); })()";

    /** Presses Tab until something with a name that begins so has the focus, which has to be seen. */
    Keyboard to(String name) {
        StringBuilder met = new StringBuilder();
        for (int i = 0; i < FARTHEST; i++) {
            page.keyboard().press("Tab");
            String here = String.valueOf(page.evaluate(NAME));
            if (here.startsWith(name)) {
                assertThat((Boolean) page.evaluate("document.activeElement.matches(':focus-visible')"))
                        .as("the focus on '%s' is seen", name)
                        .isTrue();
                return this;
            }
            met.append(here.lines().findFirst().orElse("")).append(" | ");
        }
        throw new AssertionError("the Tab key does not lead to '" + name + "'; it leads to " + met);
    }

    /** Writes over what a field holds. */
    Keyboard writes(String text) {
        page.keyboard().press("Control+a");
        page.keyboard().type(text);
        return this;
    }

    /** Presses a key. */
    Keyboard press(String key) {
        page.keyboard().press(key);
        return this;
    }
}
