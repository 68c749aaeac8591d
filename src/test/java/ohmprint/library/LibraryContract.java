package ohmprint.library;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;

/** What a library does, of whichever kind it is: every contract, on a new library for each test. */
abstract class LibraryContract implements KeepingContract, FindingContract, LinkingContract, MovingContract {
    @TempDir
    Path folder;

    private CurveLibrary library;

    /** A place where there is no library yet. */
    abstract LibraryLocation nowhere() throws Exception;

    /** A connection around the program, to the library that {@link #nowhere} named last. */
    @Override
    public abstract Connection raw() throws SQLException;

    @Override
    public CurveLibrary library() {
        return library;
    }

    @Override
    public Path folder() {
        return folder;
    }

    @BeforeEach
    void open() throws Exception {
        library = CurveLibrary.openOrMake(nowhere());
    }

    @AfterEach
    void close() {
        library.close();
    }
}
