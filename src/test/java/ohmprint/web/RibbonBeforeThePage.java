package ohmprint.web;

import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;

/** A page for a workspace with the session of the repaired ribbon, and a browser that was admitted. */
abstract class RibbonBeforeThePage {
    static final String RIBBON = "/api/sessions/ribbon";

    @TempDir
    Path dir;

    OpenPage page;
    PageClient client;

    @BeforeEach
    void open() throws Exception {
        OpenPage.copied(OpenPage.RIBBON, dir.resolve("ribbon"));
        page = OpenPage.of(dir);
        client = page.client();
    }

    @AfterEach
    void close() {
        page.close();
    }
}
