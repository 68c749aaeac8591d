package ohmprint.web;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Supplier;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.PageDoor;
import ohmprint.audio.SoundSystem;
import ohmprint.soundbench.SoundlessBench;

/** A page in this process, with a browser that was admitted. */
public final class OpenPage implements AutoCloseable {
    /** The small session of the fixtures that comes with the program, too. */
    public static final Path RIBBON = Path.of("fixtures/sessions/ribbon-repaired");

    private final Bench bench;
    private final PageDoor.Page page;

    private OpenPage(Bench bench, PageDoor.Page page) {
        this.bench = bench;
        this.page = page;
    }

    /** Opens one for a folder, with a sound system that never sounds. */
    public static OpenPage of(Path workspace) throws BadInputException, IOException {
        return of(workspace, SoundlessBench::new, new BenchPage());
    }

    /** The same with a sound system. */
    public static OpenPage of(Path workspace, Supplier<SoundSystem> sound, BenchPage door)
            throws BadInputException, IOException {
        Bench bench = Bench.open(workspace, null, sound);
        return new OpenPage(bench, door.open(bench, 0));
    }

    /** A browser that has opened its link. */
    public PageClient client() throws IOException, InterruptedException {
        return PageClient.admitted(page.link());
    }

    /** The page itself. */
    public PageDoor.Page page() {
        return page;
    }

    /** Copies manifest and recordings of a fixture into a folder of the workspace. */
    public static Path copied(Path fixture, Path folder) throws IOException {
        Files.createDirectories(folder);
        try (Stream<Path> files = Files.list(fixture)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                String name = String.valueOf(file.getFileName());
                if (name.endsWith(".wav") || name.equals("session.yaml")) {
                    Files.copy(file, folder.resolve(name));
                }
            }
        }
        return folder;
    }

    @Override
    public void close() {
        page.close();
        bench.close();
    }
}
