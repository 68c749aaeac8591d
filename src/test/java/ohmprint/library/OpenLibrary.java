package ohmprint.library;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import ohmprint.exchange.CurveJson;

/** A library that a contract looks at, of whichever kind it is. */
interface OpenLibrary {
    LibraryHealth.DocumentReader READER = CurveJson::read;

    /** The library, empty when a test begins. */
    CurveLibrary library();

    /** A folder of this test alone. */
    Path folder();

    /** A connection around the program, to the library opened last. */
    Connection raw() throws SQLException;
}
