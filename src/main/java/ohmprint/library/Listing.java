package ohmprint.library;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;
import org.jspecify.annotations.Nullable;

/** Finds measurements by what they are. */
final class Listing {
    private static final String ENTRY = "SELECT m.id, m.sha256, m.microphone, m.label, x.maker, x.model, x.serial,"
            + " x.transducer, m.measured_at, m.added_at, m.operator, m.note, m.route, m.verdict, m.findings, m.loads,"
            + " m.input, m.parallel_with_input, m.ohm_at_1khz, s.newer"
            + " FROM measurement m JOIN microphone x ON x.id = m.microphone"
            + " LEFT JOIN supersession s ON s.older = m.id";

    /** By the index of times while so many times more pass than are wanted; else nearly all rows would be looked at twice. */
    private static final int ALONG_THE_INDEX = 4;

    private static final String NEWEST_FIRST = " ORDER BY m.measured_at DESC, m.id LIMIT :most";

    private final List<String> conditions = new ArrayList<>();
    private final Map<String, Object> values = new LinkedHashMap<>();
    private final boolean byMicrophone;

    private Listing(Filter filter) {
        int n = 0;
        for (String word : filter.words()) {
            String name = "word" + n++;
            values.put(name, "%" + escaped(lower(word)) + "%");
            conditions.add("m.search_text LIKE :" + name + " ESCAPE '!'");
        }
        List<String> ofMicrophone = new ArrayList<>();
        same(ofMicrophone, "x.maker", "maker", filter.maker());
        same(ofMicrophone, "x.model", "model", filter.model());
        same(ofMicrophone, "x.serial", "serial", filter.serial());
        same(ofMicrophone, "x.transducer", "transducer", filter.transducer());
        byMicrophone = !ofMicrophone.isEmpty();
        if (byMicrophone) {
            // The microphones are found first; looking one up for each measurement takes several times as long.
            conditions.add(
                    "m.microphone IN (SELECT x.id FROM microphone x WHERE " + String.join(" AND ", ofMicrophone) + ")");
        }
        same(conditions, "m.operator", "operator", filter.operator());
        same(conditions, "m.route", "route", filter.route());
        same(conditions, "m.verdict", "verdict", filter.verdict());
        if (filter.since() != null) {
            values.put("since", Database.time(filter.since()));
            conditions.add("m.measured_at >= :since");
        }
        if (filter.until() != null) {
            values.put("until", Database.time(filter.until()));
            conditions.add("m.measured_at < :until");
        }
        if (!filter.superseded()) {
            conditions.add("NOT EXISTS (SELECT 1 FROM supersession o WHERE o.older = m.id)");
        }
    }

    /**
     * The newest that pass a filter, no more than so many. The choice is made in what is narrow; the wide rows are read for
     * the chosen alone.
     */
    static EntryList page(Handle handle, String library, Filter filter, int most) {
        Listing listing = new Listing(filter);
        return listing.byMicrophone ? listing.counted(handle, library, most) : listing.inTurn(handle, library, most);
    }

    /** Finds and counts in one go, where finding is dear. */
    private EntryList counted(Handle handle, String library, int most) {
        String chosen = "SELECT m.id AS chosen, count(*) OVER () AS total" + from() + NEWEST_FIRST;
        int[] total = {0};
        List<Entry> entries = bound(handle.createQuery(ENTRY.replace("SELECT ", "SELECT c.total, ") + " JOIN (" + chosen
                        + ") c ON c.chosen = m.id ORDER BY m.measured_at DESC, m.id"))
                .bind("most", most)
                .map((r, context) -> {
                    total[0] = r.getInt("total");
                    return entry(r);
                })
                .list();
        return new EntryList(library, entries, total[0]);
    }

    /** Counts, then takes the newest: by the index of times, or, where few pass, by putting these in order. */
    private EntryList inTurn(Handle handle, String library, int most) {
        int total = bound(handle.createQuery("SELECT count(*)" + from()))
                .mapTo(Integer.class)
                .one();
        if (total == 0) {
            return new EntryList(library, List.of(), 0);
        }
        // An expression has no index, so the few are found in one pass and put in order.
        String newest = total / ALONG_THE_INDEX < most
                ? NEWEST_FIRST.replace("m.measured_at", "m.measured_at || ''")
                : NEWEST_FIRST;
        List<Entry> entries = bound(handle.createQuery(ENTRY + " WHERE m.id IN (SELECT m.id" + from() + newest
                        + ") ORDER BY m.measured_at DESC, m.id"))
                .bind("most", most)
                .map((r, context) -> entry(r))
                .list();
        return new EntryList(library, entries, total);
    }

    /** The entry with this identifier. */
    static Optional<Entry> entry(Handle handle, String id) {
        return handle.createQuery(ENTRY + " WHERE m.id = :id")
                .bind("id", id)
                .map((r, context) -> entry(r))
                .findOne();
    }

    /** Identifiers that begin so, two at most. */
    static List<String> beginning(Handle handle, String start) {
        return handle.createQuery("SELECT id FROM measurement WHERE id LIKE :start ORDER BY id LIMIT 2")
                .bind("start", start + "%")
                .mapTo(String.class)
                .list();
    }

    /** Identifiers of all that pass a filter, newest first. */
    static List<String> ids(Handle handle, Filter filter) {
        Listing listing = new Listing(filter);
        return listing.bound(handle.createQuery("SELECT m.id" + listing.from() + " ORDER BY m.measured_at DESC, m.id"))
                .mapTo(String.class)
                .list();
    }

    private String from() {
        return " FROM measurement m" + (conditions.isEmpty() ? "" : " WHERE " + String.join(" AND ", conditions));
    }

    private Query bound(Query query) {
        values.forEach(query::bind);
        return query;
    }

    /** Equal without regard to case; a database may know the case of plain letters alone, so the exact text passes too. */
    private void same(List<String> where, String column, String name, @Nullable String value) {
        if (value != null) {
            where.add("(lower(" + column + ") = :" + name + " OR " + column + " = :" + name + "_exact)");
            values.put(name, lower(value));
            values.put(name + "_exact", value);
        }
    }

    private static String lower(String text) {
        return text.strip().toLowerCase(Locale.ROOT);
    }

    private static String escaped(String text) {
        return text.replace("!", "!!").replace("%", "!%").replace("_", "!_");
    }

    /** By hand: what jdbi does by reflection took twice as long for a list, and 60 ms of a fresh process. */
    private static Entry entry(ResultSet r) throws SQLException {
        double ohms = r.getDouble("ohm_at_1khz");
        @Nullable Double ohmAt1kHz = r.wasNull() ? null : Double.valueOf(ohms);
        return new Entry(
                r.getString("id"),
                r.getString("sha256"),
                r.getString("microphone"),
                r.getString("label"),
                r.getString("maker"),
                r.getString("model"),
                r.getString("serial"),
                r.getString("transducer"),
                Instant.parse(r.getString("measured_at")),
                Instant.parse(r.getString("added_at")),
                r.getString("operator"),
                r.getString("note"),
                r.getString("route"),
                r.getString("verdict"),
                r.getString("findings"),
                r.getString("loads"),
                r.getString("input"),
                r.getInt("parallel_with_input") != 0,
                ohmAt1kHz,
                r.getString("newer"));
    }
}
