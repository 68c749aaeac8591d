package ohmprint.library;

import java.sql.SQLException;
import java.util.Collections;
import java.util.Map;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Writes rows given as values by column. */
final class Rows {
    private Rows() {}

    /**
     * Inserts a row unless its key is taken.
     *
     * @return whether it was inserted
     */
    static boolean insert(Handle handle, String table, Map<String, @Nullable Object> row) throws SQLException {
        String names = String.join(", ", row.keySet());
        String places = String.join(", ", Collections.nCopies(row.size(), "?"));
        String sql = "INSERT INTO " + table + " (" + names + ") VALUES (" + places + ") ON CONFLICT DO NOTHING";
        try (var statement = handle.getConnection().prepareStatement(sql)) {
            int i = 1;
            for (Object value : row.values()) {
                if (value instanceof byte[] bytes) {
                    statement.setBytes(i++, bytes);
                } else {
                    statement.setObject(i++, value);
                }
            }
            return statement.executeUpdate() > 0;
        }
    }
}
