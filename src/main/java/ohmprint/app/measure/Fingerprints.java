package ohmprint.app.measure;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import ohmprint.session.Session;

/** SHA-256 of all files of a session, computed beside the measurement. */
final class Fingerprints {
    private Fingerprints() {}

    /** Fingerprints of the takes in their order, then of the stimulus file if there is one. */
    static CompletableFuture<List<String>> of(Session session) {
        List<Path> files =
                new ArrayList<>(session.takes().stream().map(session::path).toList());
        session.stimulusPath().ifPresent(files::add);
        return CompletableFuture.supplyAsync(
                () -> files.stream().map(Fingerprints::sha256).toList());
    }

    private static String sha256(Path file) {
        try {
            return TakeFiles.sha256(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Waits for the fingerprints. */
    static List<String> join(CompletableFuture<List<String>> running) throws IOException {
        try {
            return running.join();
        } catch (CompletionException e) {
            if (e.getCause() instanceof UncheckedIOException u) {
                throw u.getCause();
            }
            throw e;
        }
    }
}
