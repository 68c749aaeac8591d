package ohmprint.library;

import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Adds a measurement with all that belongs to it, within a transaction of the caller. */
final class Adding {
    private Adding() {}

    /**
     * Adds it unless it is there.
     *
     * @param again whether it is added although it was removed once
     * @throws LibraryException if it was removed, or another one has its identifier
     */
    static Added add(Handle handle, NewMeasurement added, boolean again) throws LibraryException, SQLException {
        Optional<String> there = idOf(handle, added.sha256());
        if (there.isPresent()) {
            return new Added(there.get(), false);
        }
        if (!again) {
            refuseRemoved(handle, added);
        }
        Rows.insert(
                handle, "microphone", Columns.ofMicrophone(added.measurement().microphone()));
        Map<String, @Nullable Object> row = Columns.ofMeasurement(added);
        row.put("added_at", Stamp.of(Instant.now()));
        if (!Rows.insert(handle, "measurement", row)) {
            // Another program added it at this moment, or its identifier belongs to another document.
            return idOf(handle, added.sha256())
                    .map(id -> new Added(id, false))
                    .orElseThrow(() -> new LibraryException("another measurement has the identifier " + added.id()
                            + " by chance; measure once more, so that this one gets another"));
        }
        Rows.insert(handle, "curve_document", part(added, "gzip", Gzip.pack(added.document())));
        Rows.insert(
                handle,
                "curve_shape",
                part(added, "points", CurveShape.of(added.measurement().curve()).encode()));
        for (Map<String, @Nullable Object> take : Columns.ofTakes(added)) {
            Rows.insert(handle, "take", take);
        }
        return new Added(added.id(), true);
    }

    private static Map<String, @Nullable Object> part(NewMeasurement added, String column, byte[] content) {
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put("measurement", added.id());
        row.put(column, content);
        return row;
    }

    private static Optional<String> idOf(Handle handle, String sha256) {
        return handle.createQuery("SELECT id FROM measurement WHERE sha256 = :sha256")
                .bind("sha256", sha256)
                .mapTo(String.class)
                .findOne();
    }

    private static void refuseRemoved(Handle handle, NewMeasurement added) throws LibraryException {
        Optional<Removal> removal = Removing.latest(handle, added.sha256());
        if (removal.isPresent()) {
            Removal r = removal.get();
            throw new LibraryException(added.id() + " (" + r.label() + ") was removed from this library by " + r.by()
                    + " at " + r.at() + ": " + r.reason() + "; add it with --again if it is wanted after all");
        }
    }
}
