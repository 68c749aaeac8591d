package ohmprint.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.regex.Pattern;
import ohmprint.app.workspace.MissingException;

/** The files of the page from the program's resources, and the one page that all views share. */
final class PageFiles {
    private static final String OWN = "/ohmprint/web/";
    private static final String PLOT = "org.webjars.npm/uplot";
    private static final Pattern NAME = Pattern.compile("[a-z0-9-]+\\.[a-z0-9]+");
    private static final Map<String, String> KINDS = Map.of(
            "js", "text/javascript; charset=utf-8",
            "css", "text/css; charset=utf-8",
            "html", "text/html; charset=utf-8",
            "svg", "image/svg+xml",
            "woff2", "font/woff2");
    private static final List<String> VIEWS = List.of(
            "/",
            "/session/{name}",
            "/library",
            "/library/{id}",
            "/compare",
            "/spread",
            "/like",
            "/check",
            "/report",
            "/plan");

    private static final List<String> NOT_VIEWS = List.of("/api/", "/page/", "/lib/");

    private PageFiles() {}

    /** Adds their addresses. */
    static void add(RoutesConfig routes) {
        for (String view : VIEWS) {
            routes.get(view, context -> send(context, OWN + "index.html", "html"));
        }
        routes.get("/page/{file}", context -> {
            String file = context.pathParam("file");
            if (!NAME.matcher(file).matches()) {
                throw new MissingException("the page has no file " + file);
            }
            send(context, OWN + file, file.substring(file.lastIndexOf('.') + 1));
        });
        String dist = "/META-INF/resources/webjars/uplot/" + plotVersion() + "/dist/";
        routes.get("/lib/uplot.js", context -> send(context, dist + "uPlot.esm.js", "js"));
        routes.get("/lib/uplot.css", context -> send(context, dist + "uPlot.min.css", "css"));
    }

    /**
     * Answers a browser that asks for an address where there is nothing with the page, which then says so.
     *
     * @return false where a program or a file is asked for, which gets no page
     */
    static boolean sendsPage(Context context) {
        String path = context.path();
        boolean view = NOT_VIEWS.stream().noneMatch(path::startsWith)
                && (context.method().equals(HandlerType.GET) || context.method().equals(HandlerType.HEAD));
        if (view) {
            try {
                send(context, OWN + "index.html", "html");
            } catch (IOException | MissingException e) {
                throw new IllegalStateException("the program does not hold its page", e);
            }
        }
        return view;
    }

    /** The folder of a WebJar is named by its version, which its own description tells. */
    private static String plotVersion() {
        Properties about = new Properties();
        try (InputStream in = PageFiles.class.getResourceAsStream("/META-INF/maven/" + PLOT + "/pom.properties")) {
            if (in == null) {
                throw new IllegalStateException("the program does not hold the library " + PLOT);
            }
            about.load(in);
        } catch (IOException e) {
            throw new IllegalStateException("the description of " + PLOT + " cannot be read", e);
        }
        return about.getProperty("version");
    }

    private static void send(Context context, String resource, String kind) throws IOException, MissingException {
        String type = KINDS.get(kind);
        try (InputStream in = type == null ? null : PageFiles.class.getResourceAsStream(resource)) {
            if (in == null || type == null) {
                throw new MissingException("the page has no file " + context.path());
            }
            context.header("Cache-Control", "no-cache").contentType(type).result(in.readAllBytes());
        }
    }
}
