package ohmprint.library;

import java.util.Map;
import javax.sql.DataSource;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;

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
     * @param kind folder of the scripts that only one kind of database understands
     */
    static void bringUpToDate(DataSource source, String kind, LibraryLocation location) throws LibraryException {
        try {
            Flyway.configure(Schema.class.getClassLoader())
                    .dataSource(source)
                    .locations(SCRIPTS + "both", SCRIPTS + kind)
                    .placeholders(Map.of("now", Stamp.now()))
                    .load()
                    .migrate();
        } catch (FlywayException e) {
            String reason = String.valueOf(e.getMessage()).lines().findFirst().orElse("");
            if (reason.contains("non-empty schema")) {
                throw new LibraryException(
                        "library " + location + ": there are other tables in that schema; name an empty"
                                + " database, or an empty schema of it with ?currentSchema=NAME");
            }
            throw Objection.of(location, e);
        }
    }

    /** Refuses what a newer program wrote. */
    static void checkReadable(int version, LibraryLocation location) throws LibraryException {
        if (version > VERSION) {
            throw new LibraryException("library " + location + " has schema version " + version
                    + ", this program reads up to " + VERSION + "; use a newer program");
        }
    }
}
