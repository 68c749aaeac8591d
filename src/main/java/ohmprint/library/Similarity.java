package ohmprint.library;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Set;
import org.jdbi.v3.core.Handle;

/**
 * A measurement that resembles the one that was asked about.
 *
 * @param entry the measurement
 * @param distance root mean square over the third octaves compared of the difference of ln|Z| in standard deviations, which
 *     hold both uncertainties and what units of one model differ by; about 1 or less: as like as two units of one model
 * @param differencePercent root mean square of the difference of |Z|, percent
 * @param bands number of third octaves compared
 */
public record Similarity(Entry entry, double distance, double differencePercent, int bands) {
    private static final int ROWS_AT_A_TIME = 5000;

    private record Candidate(String id, CurveSignature.Closeness closeness) {}

    /** The distance in words. */
    public String words() {
        return distance <= 1.25 ? "as like as two units of one model" : distance <= 2.5 ? "similar" : "different";
    }

    /**
     * The measurements whose shape is most like a given one, best first, by comparing with all; what was superseded does not
     * count.
     *
     * @param most how many at most
     * @param but identifier of a measurement to leave out, or empty
     */
    static List<Similarity> likest(Handle handle, CurveSignature shape, int most, String but) {
        Set<String> superseded = new HashSet<>(handle.createQuery("SELECT older FROM supersession")
                .mapTo(String.class)
                .list());
        superseded.add(but);
        Comparator<Candidate> byRank =
                Comparator.comparingDouble(c -> c.closeness().rank());
        PriorityQueue<Candidate> best = new PriorityQueue<>(byRank.reversed());
        handle.createQuery("SELECT measurement, points FROM curve_shape")
                .setFetchSize(ROWS_AT_A_TIME)
                .scanResultSet((rows, context) -> {
                    var row = rows.get();
                    while (row.next()) {
                        byte[] points = row.getBytes(2);
                        CurveSignature.Closeness closeness = CurveSignature.isShape(points)
                                ? shape.to(ByteBuffer.wrap(points).order(ByteOrder.LITTLE_ENDIAN))
                                : null;
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
                    return best;
                });
        List<Similarity> found = new ArrayList<>();
        best.stream()
                .sorted(byRank.thenComparing(Candidate::id))
                .forEach(c -> Listing.entry(handle, c.id())
                        .ifPresent(e -> found.add(new Similarity(
                                e,
                                c.closeness().distance(),
                                100 * Math.expm1(c.closeness().difference()),
                                c.closeness().bands()))));
        return found;
    }
}
