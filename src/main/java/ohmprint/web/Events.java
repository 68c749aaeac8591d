package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.sse.SseClient;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.OpenSession;
import ohmprint.app.workspace.Workspace;
import org.jspecify.annotations.Nullable;

/**
 * The stream of what happens in a session, for one window. A window that does not take its events in time loses levels, and
 * after that its stream, which its browser then opens anew: neither sound nor other windows wait for it.
 *
 * @param bench where the open sessions are
 */
record Events(Workspace bench) {
    private static final int WAITING = 256;
    private static final int LEVELS = 16;
    private static final int HEARTBEAT_SECONDS = 10;

    /** Adds the address. */
    void add(RoutesConfig routes) {
        routes.sse("/api/sessions/{name}/events", this::stream);
    }

    private void stream(SseClient client) {
        OpenSession openSession;
        try {
            openSession = bench.openSession(client.ctx().pathParam("name"));
        } catch (BadInputException | IOException e) {
            client.sendEvent("note", text(new OpenSession.Note(String.valueOf(e.getMessage()))), "0");
            client.close();
            return;
        }
        Window window = new Window(client);
        try {
            Runnable end = openSession.listen(window::take);
            try {
                window.run();
            } finally {
                end.run();
            }
        } catch (BadInputException | IOException e) {
            client.sendEvent("note", text(new OpenSession.Note(String.valueOf(e.getMessage()))), "0");
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            client.close();
        }
    }

    private static String text(Object record) {
        return new String(Json.bytes(record), StandardCharsets.UTF_8);
    }

    /** One window. */
    private static final class Window {
        private final SseClient client;
        private final BlockingQueue<OpenSession.Event> waiting = new ArrayBlockingQueue<>(WAITING);
        private volatile boolean late;

        Window(SseClient client) {
            this.client = client;
        }

        void take(OpenSession.Event event) {
            if (event.kind().equals("level") && waiting.size() >= LEVELS) {
                return;
            }
            late |= !waiting.offer(event);
        }

        void run() throws InterruptedException {
            while (!client.terminated() && !late) {
                OpenSession.@Nullable Event event = waiting.poll(HEARTBEAT_SECONDS, TimeUnit.SECONDS);
                if (event == null) {
                    client.sendComment("still here");
                } else {
                    client.sendEvent(event.kind(), text(event.content()), Long.toString(event.id()));
                }
            }
        }
    }
}
