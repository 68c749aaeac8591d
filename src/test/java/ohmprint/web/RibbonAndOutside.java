package ohmprint.web;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.loopback.SoundlessBench;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;

/** A page for a workspace with the repaired ribbon, and a folder beside the workspace that is none of its business. */
abstract class RibbonAndOutside {
    static final int MOST = 1 << 20;
    static final String FILES = "/api/sessions/ribbon/files/";

    @TempDir
    Path dir;

    Path workspace;
    Path outside;
    OpenPage page;
    PageClient client;

    @BeforeEach
    void open() throws Exception {
        workspace = Files.createDirectories(dir.resolve("workspace"));
        outside = Files.createDirectories(dir.resolve("outside"));
        OpenPage.copied(OpenPage.RIBBON, workspace.resolve("ribbon"));
        page = OpenPage.of(workspace, SoundlessBench::new, door());
        client = page.client();
    }

    /** The page that is opened. */
    BenchPage door() {
        return new BenchPage(MOST);
    }

    @AfterEach
    void close() {
        page.close();
    }

    List<String> everything() throws IOException {
        try (Stream<Path> all = Files.walk(dir)) {
            return all.map(p -> dir.relativize(p).toString()).sorted().toList();
        }
    }
}
