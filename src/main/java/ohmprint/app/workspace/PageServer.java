package ohmprint.app.workspace;

import java.io.IOException;
import ohmprint.app.BadInputException;

/**
 * What serves a bench as a page. The command line finds it as a service ({@link java.util.ServiceLoader}), so that neither
 * door knows the other.
 */
public interface PageServer {
    /**
     * Opens the page to this computer alone.
     *
     * @param bench what is shown and worked with
     * @param port port at the loopback address, or 0 for any free one
     * @throws BadInputException if the port cannot be had
     * @throws IOException if the network of this computer fails
     */
    Page open(Workspace bench, int port) throws BadInputException, IOException;

    /** A page that is being served. */
    interface Page extends AutoCloseable {
        /** The link that opens it, with what admits a browser. */
        String link();

        /** A link that admits one browser once and then no more, for handing to another program. */
        String linkForOnce();

        /** Serves no longer. */
        @Override
        void close();
    }
}
