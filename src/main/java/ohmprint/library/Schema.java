package ohmprint.library;

import java.time.Instant;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.configuration.FluentConfiguration;

/** The tables, made and brought up to date by the numbered scripts beside this class. */
final class Schema {
    /** The version that this program writes. */
    static final int VERSION = 1;

    private static final String SCRIPTS = "classpath:ohmprint/library/schema/";

    private Schema() {}

    /**
     * Brings a database to the current version; one that is current is left as it is, and several programs may do it at
     * once on a server.
     *
     * @param source says which database it is
     * @param kind folder of the scripts that only one kind of database understands
     * @param library what messages call the library
     */
    static void bringUpToDate(UnaryOperator<FluentConfiguration> source, String kind, String library)
            throws LibraryException {
        try {
            source.apply(Flyway.configure(Schema.class.getClassLoader()))
                    .locations(SCRIPTS + "both", SCRIPTS + kind)
                    .placeholders(Map.of("now", Database.time(Instant.now())))
                    .load()
                    .migrate();
        } catch (FlywayException e) {
            String reason = String.valueOf(e.getMessage()).lines().findFirst().orElse("");
            if (reason.contains("non-empty schema")) {
                throw new LibraryException(
                        "library " + library + ": there are other tables in that schema; name an empty"
                                + " database, or an empty schema of it with ?currentSchema=NAME");
            }
            throw LibraryException.of(library, e);
        }
    }

    /** Refuses what a newer program wrote. */
    static void checkReadable(int version, String library) throws LibraryException {
        if (version > VERSION) {
            throw new LibraryException("library " + library + " has schema version " + version
                    + ", this program reads up to " + VERSION + "; use a newer program");
        }
    }
}
