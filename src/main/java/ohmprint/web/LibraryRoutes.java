package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Map;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Downloads;
import ohmprint.app.workspace.LibraryService;
import ohmprint.app.workspace.Workspace;
import ohmprint.library.ImportResult;

/**
 * Addresses of the library and its specifications.
 *
 * @param bench what they work with
 * @param mostBytes most bytes of a bundle that is taken in
 */
record LibraryRoutes(Workspace bench, long mostBytes) {
    private static final String LIBRARY = "/api/library";
    private static final String ENTRY = LIBRARY + "/{id}";
    private static final String BUNDLE = LIBRARY + "/bundle";
    private static final String SPECIFICATIONS = "/api/specifications";

    /** Adds them. */
    void add(RoutesConfig routes) {
        // Before those of an entry, whose pattern they fit as well.
        routes.get(BUNDLE, this::bundle);
        routes.put(BUNDLE, Answers.json(this::takeIn));
        routes.get(LIBRARY + "/health", Answers.json(context -> libraryService().health()));
        routes.get(LIBRARY, Answers.json(context -> libraryService().search(RequestBodies.query(context))));
        routes.post(
                LIBRARY,
                Answers.json(
                        context -> libraryService().keep(RequestBodies.read(context, LibraryService.Addition.class))));
        routes.get(ENTRY, Answers.json(context -> libraryService().show(id(context))));
        routes.post(
                ENTRY + "/supersede",
                Answers.json(context -> libraryService()
                        .supersede(id(context), RequestBodies.read(context, LibraryService.Care.class))));
        routes.post(
                ENTRY + "/repaired",
                Answers.json(context -> libraryService()
                        .repaired(id(context), RequestBodies.read(context, LibraryService.Care.class))));
        routes.post(
                ENTRY + "/remove",
                Answers.json(context ->
                        libraryService().remove(id(context), RequestBodies.read(context, LibraryService.Care.class))));
        routes.get(
                SPECIFICATIONS,
                Answers.json(context -> Map.of("names", libraryService().specifications())));
        routes.get(
                SPECIFICATIONS + "/{name}",
                Answers.json(context -> libraryService().specification(context.pathParam("name"))));
        routes.put(
                SPECIFICATIONS + "/{name}",
                Answers.json(context -> libraryService()
                        .keepSpecification(
                                context.pathParam("name"),
                                RequestBodies.read(context, LibraryService.NewSpecification.class))));
    }

    private LibraryService libraryService() {
        return bench.libraryService();
    }

    private static String id(Context context) {
        return context.pathParam("id");
    }

    private void bundle(Context context) throws BadInputException, IOException {
        List<String> ids = RequestBodies.query(context).list("ids").stream()
                .map(String::strip)
                .toList();
        Answers.file(
                context,
                new Downloads.Sheet(
                        "curves.zip", "application/zip", libraryService().bundle(ids)));
    }

    private ImportResult takeIn(Context context) throws BadInputException, IOException {
        try (InputStream in = RequestBodies.file(context, mostBytes)) {
            return libraryService().takeIn(in);
        }
    }
}
