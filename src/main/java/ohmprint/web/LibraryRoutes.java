package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.CareForm;
import ohmprint.app.workspace.KeepForm;
import ohmprint.app.workspace.ReportForm;
import ohmprint.app.workspace.SearchForm;
import ohmprint.app.workspace.Shelf;
import ohmprint.app.workspace.SpecificationForm;

/**
 * Addresses of the library and its specifications.
 *
 * @param bench what they work with
 * @param mostBytes most bytes of a bundle that is taken in
 */
record LibraryRoutes(Bench bench, long mostBytes) {
    private static final String LIBRARY = "/api/library";
    private static final String ENTRY = LIBRARY + "/{id}";
    private static final String BUNDLE = LIBRARY + "/bundle";
    private static final String SPECIFICATIONS = "/api/specifications";

    /** Adds them. */
    void add(RoutesConfig routes) {
        // Before those of an entry, whose pattern they fit as well.
        routes.get(BUNDLE, this::bundle);
        routes.put(BUNDLE, this::takeIn);
        routes.get(LIBRARY + "/health", context -> Answers.json(context, shelf().health()));
        routes.get(LIBRARY, context -> Answers.json(context, shelf().search(new SearchForm(values(context)))));
        routes.post(LIBRARY, context -> Answers.json(context, shelf().keep(body(context, KeepForm.class))));
        routes.get(ENTRY, context -> Answers.json(context, shelf().show(id(context))));
        routes.post(
                ENTRY + "/supersede",
                context -> Answers.json(context, shelf().supersede(id(context), body(context, CareForm.class))));
        routes.post(
                ENTRY + "/repaired",
                context -> Answers.json(context, shelf().repaired(id(context), body(context, CareForm.class))));
        routes.post(
                ENTRY + "/remove",
                context -> Answers.json(context, shelf().remove(id(context), body(context, CareForm.class))));
        routes.get(SPECIFICATIONS, context -> Answers.json(context, shelf().specifications()));
        routes.get(
                SPECIFICATIONS + "/{name}",
                context -> Answers.json(context, shelf().specification(context.pathParam("name"))));
        routes.put(
                SPECIFICATIONS + "/{name}",
                context -> Answers.json(
                        context,
                        shelf().keepSpecification(context.pathParam("name"), body(context, SpecificationForm.class))));
    }

    private Shelf shelf() {
        return bench.shelf();
    }

    private static String id(Context context) {
        return context.pathParam("id");
    }

    private static <T> T body(Context context, Class<T> type) throws BadInputException, IOException {
        return Json.read(Bodies.json(context), type);
    }

    /** The names and values of an address, the first of each. */
    static Map<String, String> values(Context context) {
        Map<String, String> out = new TreeMap<>();
        context.queryParamMap().forEach((key, all) -> out.put(key, all.isEmpty() ? "" : all.get(0)));
        return out;
    }

    private void bundle(Context context) throws BadInputException, IOException {
        List<String> ids = new ArrayList<>();
        for (String id : CurveRoutes.wanted(context, "ids").split(",", -1)) {
            if (!id.isBlank()) {
                ids.add(id.strip());
            }
        }
        Answers.file(context, new ReportForm.Sheet("curves.zip", "application/zip", shelf().bundle(ids)));
    }

    private void takeIn(Context context) throws BadInputException, IOException {
        try (InputStream in = Bodies.file(context, mostBytes)) {
            Answers.json(context, shelf().takeIn(in));
        }
    }
}
