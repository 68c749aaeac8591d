package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.AdoptForm;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.CheckForm;
import ohmprint.app.workspace.PlanForm;
import ohmprint.app.workspace.ReportForm;
import org.jspecify.annotations.Nullable;

/**
 * Addresses of what is done with curves besides looking at them: comparing, checking, planning, handing over.
 *
 * @param bench what they work with
 */
record RoomRoutes(Bench bench) {
    private static final int USUAL_LIKES = 20;

    /** Adds them. */
    void add(RoutesConfig routes) {
        routes.get("/api/compare", this::compare);
        routes.get(
                "/api/spread",
                context -> Answers.json(
                        context,
                        bench.comparing().spread(given(context, "maker"), CurveRoutes.wanted(context, "model"))));
        routes.get("/api/like", this::like);
        routes.post(
                "/api/check",
                context -> Answers.json(
                        context, bench.deciding().check(Json.read(Bodies.json(context), CheckForm.class))));
        routes.post(
                "/api/plan",
                context ->
                        Answers.json(context, bench.deciding().plan(Json.read(Bodies.json(context), PlanForm.class))));
        routes.get(
                "/api/cautions",
                context -> Answers.json(context, bench.deciding().cautions()));
        routes.get(
                "/api/report",
                context ->
                        Answers.file(context, bench.handing().report(new ReportForm(LibraryRoutes.values(context)))));
        routes.get(
                "/api/curves/{ref}/file",
                context -> Answers.file(
                        context, bench.handing().curve(context.pathParam("ref"), CurveRoutes.wanted(context, "kind"))));
        routes.post(
                "/api/sessions/{name}/adopt",
                context -> Answers.json(
                        context,
                        bench.adopt(context.pathParam("name"), Json.read(Bodies.json(context), AdoptForm.class))));
    }

    private void compare(Context context) throws BadInputException, IOException {
        List<String> refs = Arrays.stream(CurveRoutes.wanted(context, "curves").split(",", -1))
                .filter(ref -> !ref.isBlank())
                .toList();
        Answers.json(context, bench.comparing().compare(refs, "true".equals(context.queryParam("same_bench"))));
    }

    private void like(Context context) throws BadInputException, IOException {
        String limit = given(context, "limit");
        int most;
        try {
            most = limit == null ? USUAL_LIKES : Integer.parseInt(limit);
        } catch (NumberFormatException e) {
            throw new BadInputException("limit is '" + limit + "', no number of measurements; give one such as 20", e);
        }
        Answers.json(context, bench.comparing().like(CurveRoutes.wanted(context, "curve"), most));
    }

    private static @Nullable String given(Context context, String key) {
        String value = context.queryParam(key);
        return value == null || value.isBlank() ? null : value.strip();
    }
}
