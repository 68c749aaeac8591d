package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Audition;
import ohmprint.app.workspace.Manifest;
import ohmprint.app.workspace.OpenSession;
import ohmprint.app.workspace.Query;
import ohmprint.app.workspace.Recorder;
import ohmprint.app.workspace.SessionCreator;
import ohmprint.app.workspace.SessionView;
import ohmprint.app.workspace.Workspace;
import ohmprint.impedance.Microphone;
import org.jspecify.annotations.Nullable;

/**
 * Addresses of the workspace and its sessions.
 *
 * @param bench what they work with
 * @param mostBytes most bytes of a file that is taken in
 */
record SessionRoutes(Workspace bench, long mostBytes) {
    private static final String SESSION = "/api/sessions/{name}";

    /** Adds them. */
    void add(RoutesConfig routes) {
        routes.get("/api/workspace", Answers.json(context -> bench.view()));
        routes.get("/api/limits", Answers.json(context -> new RequestBodies.Limits(mostBytes)));
        routes.post(
                "/api/sessions",
                Answers.json(context -> bench.create(RequestBodies.read(context, SessionCreator.Request.class))));
        routes.post("/api/demo", Answers.json(context -> bench.demo()));
        routes.get(SESSION, Answers.json(context -> openSession(context).view()));
        routes.put(SESSION + "/microphone", Answers.json(context -> {
            Manifest.Edit<Microphone> edit = edit(context, Microphone.class);
            return openSession(context).manifest().microphone(edit);
        }));
        routes.put(SESSION + "/input", Answers.json(context -> {
            Manifest.Edit<Manifest.InputEntry> edit = edit(context, Manifest.InputEntry.class);
            return openSession(context).manifest().input(edit);
        }));
        routes.put(
                SESSION + "/stimulus",
                Answers.json(context -> openSession(context)
                        .manifest()
                        .stimulus(RequestBodies.read(context, Manifest.StimulusEntry.class))));
        routes.put(SESSION + "/files/{file}", Answers.json(this::upload));
        routes.post(SESSION + "/adopt", Answers.json(this::adopt));
        routes.post(
                SESSION + "/takes",
                Answers.json(context -> openSession(context)
                        .manifest()
                        .addTake(RequestBodies.read(context, Manifest.TakeEntry.class))));
        routes.put(SESSION + "/takes/{file}", Answers.json(context -> {
            Manifest.Edit<Manifest.TakeEntry> edit = edit(context, Manifest.TakeEntry.class);
            return openSession(context).manifest().changeTake(context.pathParam("file"), edit);
        }));
        routes.delete(
                SESSION + "/takes/{file}",
                Answers.json(context -> openSession(context).manifest().removeTake(context.pathParam("file"))));
        routes.get(
                SESSION + "/takes/{file}/inspection",
                Answers.json(context -> openSession(context).inspect(context.pathParam("file"))));
        routes.post(SESSION + "/recorder", this::record);
        routes.get(SESSION + "/lines", this::lines);
        routes.get(SESSION + "/audition", this::audition);
        routes.get("/api/devices", Answers.json(context -> bench.devices()));
        routes.post(
                SESSION + "/measure",
                context -> Answers.measured(
                        context,
                        openSession(context).measure(RequestBodies.read(context, OpenSession.MeasureOptions.class))));
        routes.get(
                SESSION + "/curve",
                Answers.json(context -> bench.curves().view("session:" + context.pathParam("name"))));
    }

    private void record(Context context) throws BadInputException, IOException {
        OpenSession.Recorded recorded =
                openSession(context).record(RequestBodies.read(context, Recorder.Request.class));
        context.status(recorded.more() ? 202 : 200);
        Answers.json(context, recorded.session());
    }

    private void lines(Context context) throws BadInputException, IOException {
        String svg = openSession(context)
                .lines(RequestBodies.query(context).number("hz", 1000), "dark".equals(context.queryParam("theme")));
        // The picture is styled within itself.
        context.header("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; sandbox")
                .contentType("image/svg+xml")
                .result(svg.getBytes(StandardCharsets.UTF_8));
    }

    private void audition(Context context) throws BadInputException, IOException {
        Query query = RequestBodies.query(context);
        Audition.Request form = new Audition.Request(
                query.wanted("take"),
                query.number("load_ohm", Double.NaN),
                query.number("capacitance_pf", 0),
                query.isTrue("whole"));
        byte[] wav = openSession(context).audition(form);
        context.writeSeekableStream(new ByteArrayInputStream(wav), "audio/wav", wav.length);
    }

    private OpenSession openSession(Context context) throws BadInputException, IOException {
        return bench.openSession(context.pathParam("name"));
    }

    /** The change that the keys of a request make. */
    private static <T> Manifest.Edit<T> edit(Context context, Class<T> type) throws IOException {
        byte[] body = RequestBodies.json(context);
        return before -> Json.changed(before, body, type);
    }

    private SessionView upload(Context context) throws BadInputException, IOException {
        try (InputStream in = RequestBodies.file(context, mostBytes)) {
            return openSession(context).upload(context.pathParam("file"), in);
        }
    }

    /** Recordings directly in the workspace that a session gets copies of. */
    record Adoption(@Nullable List<String> files) {}

    private SessionView adopt(Context context) throws BadInputException, IOException {
        Adoption adoption = RequestBodies.read(context, Adoption.class);
        return openSession(context).adopt(adoption.files());
    }
}
