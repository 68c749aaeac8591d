package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.Map;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Cautions;
import ohmprint.app.workspace.ComparisonService;
import ohmprint.app.workspace.ConformityService;
import ohmprint.app.workspace.LoadControl;
import ohmprint.app.workspace.LoadPlanner;
import ohmprint.app.workspace.Query;
import ohmprint.app.workspace.Workspace;

/**
 * Addresses of curves, of what loads do to them, and of what else is done with them: comparing, checking, planning, handing
 * over.
 *
 * @param bench what they work with
 */
record CurveRoutes(Workspace bench) {
    private static final String CURVE = "/api/curves/{ref}";
    private static final int USUAL_LIKES = 20;

    /** Adds them. */
    void add(RoutesConfig routes) {
        routes.get(CURVE, Answers.json(context -> bench.curves().view(context.pathParam("ref"))));
        routes.get(
                CURVE + "/file",
                context -> Answers.file(
                        context,
                        bench.downloads()
                                .curve(
                                        context.pathParam("ref"),
                                        RequestBodies.query(context).wanted("kind"))));
        routes.post(
                "/api/match",
                Answers.json(context -> bench.loads().match(RequestBodies.read(context, LoadControl.Request.class))));
        routes.get(
                "/api/inputs",
                Answers.json(context ->
                        bench.loads().inputs(RequestBodies.query(context).wanted("curve"))));
        routes.get("/api/compare", Answers.json(this::compare));
        routes.get("/api/spread", Answers.json(this::spread));
        routes.get("/api/like", Answers.json(this::like));
        routes.post(
                "/api/check",
                Answers.json(context ->
                        bench.conformity().check(RequestBodies.read(context, ConformityService.Request.class))));
        routes.post(
                "/api/plan",
                Answers.json(context -> bench.planner().plan(RequestBodies.read(context, LoadPlanner.Request.class))));
        routes.get("/api/cautions", Answers.json(context -> Map.of("cautions", Cautions.all())));
        routes.get(
                "/api/report",
                context -> Answers.file(context, bench.downloads().report(RequestBodies.query(context))));
    }

    private ComparisonService.Overlay compare(Context context) throws BadInputException, IOException {
        Query query = RequestBodies.query(context);
        return bench.comparison().compare(query.list("curves"), query.isTrue("same_bench"));
    }

    private ComparisonService.UnitSpread spread(Context context) throws BadInputException, IOException {
        Query query = RequestBodies.query(context);
        return bench.comparison().spread(query.text("maker"), query.wanted("model"));
    }

    private ComparisonService.Likes like(Context context) throws BadInputException, IOException {
        Query query = RequestBodies.query(context);
        String limit = query.text("limit");
        int most;
        try {
            most = limit == null ? USUAL_LIKES : Integer.parseInt(limit);
        } catch (NumberFormatException e) {
            throw new BadInputException("limit is '" + limit + "', no number of measurements; give one such as 20", e);
        }
        return bench.comparison().like(query.wanted("curve"), most);
    }
}
