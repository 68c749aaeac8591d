package ohmprint.web;

import io.javalin.Javalin;
import io.javalin.compression.CompressionStrategy;
import io.javalin.config.JavalinConfig;
import io.javalin.util.JavalinBindException;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.PageServer;
import ohmprint.app.workspace.Workspace;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/** The server of the page. */
public final class BenchPage implements PageServer {
    private static final int THREADS = 64;
    /** How long a long measurement may take before its window hears of it, milliseconds. */
    private static final long PATIENCE = 600_000;

    private final long mostBytes;
    private final Arrivals.Patience patience;

    /** For the loader of services. */
    public BenchPage() {
        this(RequestBodies.FILE);
    }

    /** A page that takes in files of at most so many bytes. */
    BenchPage(long mostBytes) {
        this(mostBytes, Arrivals.Patience.USUAL);
    }

    /** The same with other limits of time for what it takes in. */
    BenchPage(long mostBytes, Arrivals.Patience patience) {
        this.mostBytes = mostBytes;
        this.patience = patience;
    }

    @Override
    public Page open(Workspace bench, int port) throws BadInputException {
        AccessFilter gate = new AccessFilter();
        Javalin server = Javalin.create(config -> configure(config, gate, bench, port));
        try {
            server.start();
        } catch (JavalinBindException e) {
            throw new BadInputException(
                    "port " + port + " cannot be had, perhaps because another bench has it; give another with --port,"
                            + " or 0 for any free one",
                    e);
        }
        gate.watch(server.port());
        return new Served(server, gate);
    }

    private void configure(JavalinConfig config, AccessFilter gate, Workspace bench, int port) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.startup.startupWatcherEnabled = false;
        config.http.compressionStrategy = CompressionStrategy.NONE;
        config.http.maxRequestSize = mostBytes + 1;
        config.jetty.host = "127.0.0.1";
        config.jetty.port = port;
        config.jetty.threadPool = new QueuedThreadPool(THREADS);
        config.jetty.modifyServer(server -> {
            gate.setHandler(new Arrivals(patience));
            server.setHandler(gate);
            server.setErrorHandler(new Silence());
            server.setStopTimeout(0);
        });
        config.jetty.modifyHttpConfiguration(http -> {
            http.setSendServerVersion(false);
            http.setSendXPoweredBy(false);
            http.setIdleTimeout(PATIENCE);
        });
        Answers.refusals(config.routes);
        Answers.errors(config.router);
        PageFiles.add(config.routes);
        new SessionRoutes(bench, mostBytes).add(config.routes);
        new CurveRoutes(bench).add(config.routes);
        new LibraryRoutes(bench, mostBytes).add(config.routes);
        new Events(bench).add(config.routes);
    }

    /** What cannot even be read as a request gets a status and nothing more. */
    private static final class Silence extends Handler.Abstract {
        @Override
        public boolean handle(
                org.eclipse.jetty.server.Request request,
                org.eclipse.jetty.server.Response response,
                org.eclipse.jetty.util.Callback callback) {
            response.write(true, null, callback);
            return true;
        }
    }

    /** A running server. */
    private record Served(Javalin server, AccessFilter gate) implements Page {
        @Override
        public String link() {
            return gate.link();
        }

        @Override
        public String linkForOnce() {
            return gate.linkForOnce();
        }

        @Override
        public void close() {
            server.stop();
        }
    }
}
