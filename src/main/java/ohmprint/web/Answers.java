package ohmprint.web;

import io.javalin.config.RouterConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.Handler;
import java.io.EOFException;
import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.ConflictException;
import ohmprint.app.workspace.Downloads;
import ohmprint.app.workspace.MissingException;
import ohmprint.app.workspace.OpenSession;
import ohmprint.impedance.Finding;
import org.jspecify.annotations.Nullable;

/** Answers as JSON, and what becomes of exceptions. */
final class Answers {
    private static final String TOLD = "told";

    private Answers() {}

    /** Takes that do not support a curve. */
    private record Unsupported(String error, String verdict, List<Finding> findings) {}

    /** What an address answers. */
    @FunctionalInterface
    interface Answer {
        Object to(Context context) throws BadInputException, IOException;
    }

    /** Answers with a record. */
    static Handler json(Answer answer) {
        return context -> json(context, answer.to(context));
    }

    /** A record. */
    static void json(Context context, Object record) {
        context.contentType(Json.TYPE).result(Json.bytes(record));
    }

    /** A file to keep. */
    static void file(Context context, Downloads.Sheet file) {
        context.contentType(file.mediaType())
                .header("Content-Disposition", "attachment; filename=\"" + file.name() + "\"")
                .result(file.bytes());
    }

    /** A measurement, or why there is none. */
    static void measured(Context context, OpenSession.Measured measured) {
        if (measured.curve() != null) {
            json(context, measured.curve());
            return;
        }
        String why = measured.findings().isEmpty()
                ? "the takes do not support a curve"
                : measured.findings().get(0).message();
        context.status(422);
        json(
                context,
                new Unsupported(
                        "The evidence does not support a curve: " + why, measured.verdict(), measured.findings()));
    }

    /** What is told of each exception. */
    static void refusals(RoutesConfig routes) {
        routes.exception(MissingException.class, (e, context) -> refuse(context, 404, e.getMessage()));
        routes.exception(ConflictException.class, (e, context) -> refuse(context, 409, e.getMessage()));
        routes.exception(BadInputException.class, (e, context) -> refuse(context, 400, e.getMessage()));
        routes.exception(RequestBodies.TooLargeException.class, (e, context) -> {
            context.header("Connection", "close");
            refuse(context, 413, e.getMessage());
        });
        routes.exception(Arrivals.TooSlowException.class, (e, context) -> {
            context.header("Connection", "close");
            refuse(context, 408, e.getMessage());
        });
        routes.exception(EOFException.class, (e, context) -> refuse(context, 400, "the request broke off"));
        routes.exception(
                IOException.class,
                (e, context) -> refuse(
                        context,
                        500,
                        "a file could not be read or written: " + e.getMessage()
                                + "; check the space left on the disk and the permissions of the folder"));
        routes.exception(Exception.class, (e, context) -> refuse(context, 500, "this is a fault of the program: " + e));
        routes.error(404, context -> {
            if (context.attribute(TOLD) == null && !PageFiles.sendsPage(context)) {
                refuse(context, 404, "there is nothing at " + context.path() + "; go back to the workspace");
            }
        });
    }

    /** What is told of errors of the virtual machine, which are no exceptions: without this the answer would be empty. */
    static void errors(RouterConfig router) {
        router.javaLangErrorHandler((response, error) -> {
            String why = error instanceof OutOfMemoryError
                    ? "memory ran out for this request; close other windows, or give Java more, for example"
                            + " OHMPRINT_JAVA_OPTS=-Xmx4g scripts/ohmprint bench"
                    : "this is a fault of the program: " + error;
            byte[] body = Json.refusal(why);
            response.setStatus(500);
            response.setContentType(Json.TYPE);
            try {
                response.getOutputStream().write(body);
            } catch (IOException gone) {
                return;
            }
        });
    }

    /**
     * Tells why, if there is still somebody to tell. The response of a window that has gone is taken back by the server and
     * refuses everything; thrown on, that refusal would come back here again and again.
     */
    private static void refuse(Context context, int status, @Nullable String why) {
        try {
            RequestBodies.forget(context);
            context.attribute(TOLD, true);
            context.status(status);
            context.contentType(Json.TYPE).result(Json.refusal(String.valueOf(why)));
        } catch (RuntimeException gone) {
            return;
        }
    }
}
