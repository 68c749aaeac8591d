package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.AuditionForm;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.Desk;
import ohmprint.app.workspace.InputForm;
import ohmprint.app.workspace.MeasureForm;
import ohmprint.app.workspace.MicrophoneForm;
import ohmprint.app.workspace.NewSession;
import ohmprint.app.workspace.RecorderForm;
import ohmprint.app.workspace.StimulusForm;
import ohmprint.app.workspace.TakeForm;

/**
 * Addresses of the workspace and its sessions.
 *
 * @param bench what they work with
 * @param mostBytes most bytes of a file that is taken in
 */
record SessionRoutes(Bench bench, long mostBytes) {
    private static final String SESSION = "/api/sessions/{name}";

    /** Adds them. */
    void add(RoutesConfig routes) {
        routes.get("/api/workspace", context -> Answers.json(context, bench.view()));
        routes.get("/api/limits", context -> Answers.json(context, new Bodies.Limits(mostBytes)));
        routes.post(
                "/api/sessions",
                context -> Answers.json(context, bench.create(Json.read(Bodies.json(context), NewSession.class))));
        routes.post("/api/demo", context -> Answers.json(context, bench.demo()));
        routes.get(SESSION, context -> Answers.json(context, desk(context).view()));
        routes.put(SESSION + "/microphone", this::microphone);
        routes.put(SESSION + "/input", this::input);
        routes.put(
                SESSION + "/stimulus",
                context -> Answers.json(
                        context, desk(context).stimulus(Json.read(Bodies.json(context), StimulusForm.class))));
        routes.put(SESSION + "/files/{file}", this::upload);
        routes.post(
                SESSION + "/takes",
                context -> Answers.json(
                        context, desk(context).takes().add(Json.read(Bodies.json(context), TakeForm.class))));
        routes.put(SESSION + "/takes/{file}", this::take);
        routes.delete(
                SESSION + "/takes/{file}",
                context -> Answers.json(context, desk(context).takes().remove(context.pathParam("file"))));
        routes.get(
                SESSION + "/takes/{file}/inspection",
                context -> Answers.json(context, desk(context).inspect(context.pathParam("file"))));
        routes.post(SESSION + "/recorder", this::record);
        routes.get(SESSION + "/lines", this::lines);
        routes.get(SESSION + "/audition", this::audition);
        routes.get("/api/devices", context -> Answers.json(context, bench.devices()));
        routes.post(
                SESSION + "/measure",
                context -> Answers.measured(
                        context, desk(context).measure(Json.read(Bodies.json(context), MeasureForm.class))));
        routes.get(
                SESSION + "/curve",
                context -> Answers.json(context, bench.curves().view("session:" + context.pathParam("name"))));
    }

    private void record(Context context) throws BadInputException, IOException {
        Desk.Recorded recorded = desk(context).record(Json.read(Bodies.json(context), RecorderForm.class));
        context.status(recorded.more() ? 202 : 200);
        Answers.json(context, recorded.session());
    }

    private void lines(Context context) throws BadInputException, IOException {
        String svg = desk(context).lines(number(context, "hz", 1000), "dark".equals(context.queryParam("theme")));
        // The picture is styled within itself.
        context.header("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; sandbox")
                .contentType("image/svg+xml")
                .result(svg.getBytes(StandardCharsets.UTF_8));
    }

    private void audition(Context context) throws BadInputException, IOException {
        AuditionForm form = new AuditionForm(
                CurveRoutes.wanted(context, "take"),
                number(context, "load_ohm", Double.NaN),
                number(context, "capacitance_pf", 0),
                "true".equals(context.queryParam("whole")));
        byte[] wav = desk(context).audition(form);
        context.writeSeekableStream(new ByteArrayInputStream(wav), "audio/wav", wav.length);
    }

    /** A number of the address. */
    private static double number(Context context, String key, double otherwise) throws BadInputException {
        String text = context.queryParam(key);
        if (text == null || text.isEmpty()) {
            return otherwise;
        }
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            throw new BadInputException(key + " is '" + text + "'; give a plain number", e);
        }
    }

    private Desk desk(Context context) throws BadInputException, IOException {
        return bench.desk(context.pathParam("name"));
    }

    private void microphone(Context context) throws BadInputException, IOException {
        byte[] body = Bodies.json(context);
        Answers.json(context, desk(context).microphone(before -> Json.changed(before, body, MicrophoneForm.class)));
    }

    private void input(Context context) throws BadInputException, IOException {
        byte[] body = Bodies.json(context);
        Answers.json(context, desk(context).input(before -> Json.changed(before, body, InputForm.class)));
    }

    private void take(Context context) throws BadInputException, IOException {
        byte[] body = Bodies.json(context);
        Answers.json(
                context,
                desk(context)
                        .takes()
                        .change(context.pathParam("file"), before -> Json.changed(before, body, TakeForm.class)));
    }

    private void upload(Context context) throws BadInputException, IOException {
        try (InputStream in = Bodies.file(context, mostBytes)) {
            Answers.json(context, bench.upload(context.pathParam("name"), context.pathParam("file"), in));
        }
    }
}
