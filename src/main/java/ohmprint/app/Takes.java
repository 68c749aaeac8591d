package ohmprint.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import ohmprint.session.Session;

/** Inspecting all takes of a session side by side. */
final class Takes {
    private Takes() {}

    static List<TakeInspection> inspect(Session session) throws IOException {
        try {
            return session.takes().parallelStream()
                    .map(take -> {
                        try {
                            return TakeInspection.of(session, take);
                        } catch (IOException e) {
                            throw new UncheckedIOException(e);
                        }
                    })
                    .toList();
        } catch (UncheckedIOException e) {
            throw e.getCause();
        }
    }
}
