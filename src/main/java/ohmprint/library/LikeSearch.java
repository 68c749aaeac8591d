package ohmprint.library;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Set;
import org.jdbi.v3.core.Handle;

/** Finds the measurements whose shape is most like a given one, by comparing with all. */
final class LikeSearch {
    private static final int ROWS_AT_A_TIME = 5000;

    private LikeSearch() {}

    /**
     * The likest, best first; what was superseded does not count.
     *
     * @param most how many at most
     * @param but identifier of a measurement to leave out, or empty
     */
    static List<Likeness> likest(Handle handle, CurveShape shape, int most, String but) throws SQLException {
        Set<String> superseded = new HashSet<>(handle.createQuery("SELECT older FROM supersession")
                .mapTo(String.class)
                .list());
        superseded.add(but);
        Comparator<Candidate> byRank =
                Comparator.comparingDouble(c -> c.closeness().rank());
        PriorityQueue<Candidate> best = new PriorityQueue<>(byRank.reversed());
        try (var statement = handle.getConnection().prepareStatement("SELECT measurement, points FROM curve_shape")) {
            statement.setFetchSize(ROWS_AT_A_TIME);
            try (ResultSet row = statement.executeQuery()) {
                while (row.next()) {
                    byte[] points = row.getBytes(2);
                    if (!CurveShape.isShape(points)) {
                        continue;
                    }
                    CurveShape.Closeness closeness =
                            shape.to(ByteBuffer.wrap(points).order(ByteOrder.LITTLE_ENDIAN));
                    if (closeness == null
                            || (best.size() >= most
                                    && closeness.rank()
                                            >= best.element().closeness().rank())) {
                        continue;
                    }
                    String id = row.getString(1);
                    if (!superseded.contains(id)) {
                        best.add(new Candidate(id, closeness));
                        if (best.size() > most) {
                            best.remove();
                        }
                    }
                }
            }
        }
        List<Candidate> ranked = new ArrayList<>(best);
        ranked.sort(byRank.thenComparing(Candidate::id));
        List<Likeness> found = new ArrayList<>();
        for (Candidate c : ranked) {
            Listing.entry(handle, c.id())
                    .ifPresent(e -> found.add(new Likeness(
                            e,
                            c.closeness().distance(),
                            100 * Math.expm1(c.closeness().difference()),
                            c.closeness().bands())));
        }
        return found;
    }

    private record Candidate(String id, CurveShape.Closeness closeness) {}
}
