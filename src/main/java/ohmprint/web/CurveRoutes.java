package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.MatchForm;

/**
 * Addresses of curves and of what loads do to them.
 *
 * @param bench what they work with
 */
record CurveRoutes(Bench bench) {
    /** Adds them. */
    void add(RoutesConfig routes) {
        routes.get(
                "/api/curves/{ref}",
                context -> Answers.json(context, bench.curves().view(context.pathParam("ref"))));
        routes.post(
                "/api/match",
                context ->
                        Answers.json(context, bench.loads().match(Json.read(Bodies.json(context), MatchForm.class))));
        routes.get("/api/inputs", context -> Answers.json(context, bench.loads().inputs(wanted(context, "curve"))));
    }

    /** A value of the address that has to be there. */
    static String wanted(Context context, String key) throws BadInputException {
        String value = context.queryParam(key);
        if (value == null || value.isEmpty()) {
            throw new BadInputException("the address has no " + key + "; add ?" + key + "=…");
        }
        return value;
    }
}
