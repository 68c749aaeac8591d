package ohmprint.web;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Supplier;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.PageServer;
import ohmprint.app.workspace.Workspace;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.loopback.SoundlessBench;

/** A page in this process, with a browser that was admitted. */
public final class OpenPage implements AutoCloseable {
    /** The small session of the fixtures that comes with the program, too. */
    public static final Path RIBBON = Path.of("fixtures/sessions/ribbon-repaired");

    private static final long PATIENCE_NANOS = 5_000_000_000L;
    private static final long PAUSE_NANOS = 50_000_000;

    private final Workspace bench;
    private final PageServer.Page page;

    private OpenPage(Workspace bench, PageServer.Page page) {
        this.bench = bench;
        this.page = page;
    }

    /** Opens one for a folder, with a sound system that never sounds. */
    public static OpenPage of(Path workspace) throws BadInputException, IOException {
        return of(workspace, SoundlessBench::new);
    }

    /** The same with a sound system. */
    public static OpenPage of(Path workspace, Supplier<SoundSystem> sound) throws BadInputException, IOException {
        return of(workspace, sound, new BenchPage());
    }

    /** The same with a sound system and a door. */
    public static OpenPage of(Path workspace, Supplier<SoundSystem> sound, BenchPage door)
            throws BadInputException, IOException {
        Workspace bench = Workspace.open(workspace, null, sound);
        return new OpenPage(bench, door.open(bench, 0));
    }

    /** A browser that has opened its link. */
    public PageClient client() throws IOException, InterruptedException {
        return PageClient.admitted(page.link());
    }

    /** The page itself. */
    public PageServer.Page page() {
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

    /** Ends it. Nothing may then go on answering windows that have gone: such a thread would never end. */
    @Override
    public void close() {
        page.close();
        bench.close();
        long end = System.nanoTime() + PATIENCE_NANOS;
        while (isAnswering()) {
            if (System.nanoTime() > end) {
                throw new AssertionError("a thread of the closed page still answers a window that has gone");
            }
            LockSupport.parkNanos(PAUSE_NANOS);
        }
    }

    private static boolean isAnswering() {
        return Thread.getAllStackTraces().values().stream()
                .flatMap(Arrays::stream)
                .anyMatch(frame -> frame.getClassName().equals("io.javalin.router.exception.ExceptionMapper"));
    }
}
