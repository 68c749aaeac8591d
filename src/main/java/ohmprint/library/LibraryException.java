package ohmprint.library;

import java.sql.SQLException;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** A library cannot do what it was asked; the message names the library, the reason and the next step. */
public final class LibraryException extends Exception {
    private static final long serialVersionUID = 1;

    /** A message for the user. */
    public LibraryException(String message) {
        super(message);
    }

    /** A message for the user, with what led to it. */
    public LibraryException(String message, Throwable cause) {
        super(message, cause);
    }

    /**
     * What to tell a user when the database objects: the reason in words, found among the causes. Faults of the program stay
     * what they are.
     *
     * @param library what messages call the library
     */
    static LibraryException of(String library, Exception e) {
        for (Throwable cause = e; cause != null; cause = cause.getCause()) {
            if (cause instanceof LibraryException known) {
                return known;
            }
            if (cause instanceof SQLiteException s) {
                return new LibraryException(
                        "library " + library + ": " + words(s.getResultCode(), message(s)), withoutText(e));
            }
            if (cause instanceof SQLException s) {
                return new LibraryException("library " + library + ": " + words(state(s), message(s)), withoutText(e));
            }
        }
        if (e instanceof RuntimeException r) {
            throw r;
        }
        return new LibraryException("library " + library + ": " + e.getMessage(), e);
    }

    private static String words(SQLiteErrorCode code, String message) {
        String name = code.name();
        if (name.startsWith("SQLITE_FULL")) {
            return "the disk is full; nothing was changed: free some space there and try again";
        }
        if (name.startsWith("SQLITE_BUSY") || name.startsWith("SQLITE_LOCKED")) {
            return "others have been writing to it for more than a minute; try again";
        }
        if (name.startsWith("SQLITE_READONLY") || name.startsWith("SQLITE_PERM")) {
            return "it cannot be written to; change the permissions of the file and of its folder, or name another library";
        }
        if (name.startsWith("SQLITE_CORRUPT") || name.startsWith("SQLITE_NOTADB")) {
            return "the file is damaged or no library; name another one or restore a backup";
        }
        if (name.startsWith("SQLITE_CANTOPEN")) {
            return "the file cannot be opened; check path, permissions and the space left on the disk";
        }
        if (name.startsWith("SQLITE_IOERR")) {
            return "the file cannot be read or written (" + message
                    + "); nothing was changed: check the disk and the space left on it";
        }
        return message + "; nothing was changed";
    }

    private static String words(String state, String message) {
        if (state.equals("42501")) {
            return "this login may not do that (" + message + "); a keeper can grant the role that may";
        }
        if (state.startsWith("28")) {
            return "the server refuses the login; set PGUSER, and PGPASSWORD or the file ~/.pgpass";
        }
        if (state.equals("3D000")) {
            return "there is no such database on the server; create it or correct the address";
        }
        if (state.startsWith("08")) {
            return "the server cannot be reached; check host, port and network";
        }
        if (state.equals("53100")) {
            return "the disk of the server is full; nothing was changed: free some space there and try again";
        }
        return message + "; nothing was changed";
    }

    private static String state(SQLException e) {
        return e.getSQLState() == null ? "" : e.getSQLState();
    }

    /** The first line, without what the driver adds about place and statement. */
    private static String message(SQLException e) {
        @Nullable String message = e.getMessage();
        String first = message == null
                ? "no reason given"
                : message.lines().findFirst().orElse("no reason given");
        return first.replaceFirst("^ERROR: ", "").replaceFirst("^\\[[A-Z_]+\\] ", "");
    }

    /** The trace without messages: those of a pool or driver could hold what was meant to stay secret. */
    private static Throwable withoutText(Exception e) {
        Throwable bare = new IllegalStateException(e.getClass().getName());
        bare.setStackTrace(e.getStackTrace());
        return bare;
    }
}
