package ohmprint.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import ohmprint.curve.BandStatus;
import org.jspecify.annotations.Nullable;

/**
 * Neighbouring checks with the same answer.
 *
 * @param conformity the answer of all of them
 * @param side the limit that is violated, of outside ones; null for others
 * @param checks the checks by frequency, at least one
 */
public record Stretch(Conformity conformity, @Nullable Side side, List<BandCheck> checks) {
    /** Copies the list. */
    public Stretch {
        checks = List.copyOf(checks);
    }

    /** The checks of a requirement as stretches, by frequency. */
    public static List<Stretch> of(List<BandCheck> checks) {
        return runs(checks, c -> c.conformity() + " " + violated(c)).stream()
                .map(run -> new Stretch(run.get(0).conformity(), violated(run.get(0)), run))
                .toList();
    }

    /** Frequency of the first check in hertz. */
    public double fromHz() {
        return checks.get(0).hz();
    }

    /** Frequency of the last check in hertz. */
    public double toHz() {
        return checks.get(checks.size() - 1).hz();
    }

    /** The check that lies furthest beyond its limit, or nearest to it, in percent; the first where nothing is known. */
    public BandCheck worst() {
        BandCheck worst = checks.get(0);
        for (BandCheck check : checks) {
            boolean further = check.beyondPercent() > worst.beyondPercent() || Double.isNaN(worst.beyondPercent());
            worst = further && !Double.isNaN(check.beyondPercent()) ? check : worst;
        }
        return worst;
    }

    /** Sentences on checks without a value. */
    static List<String> notMeasured(List<BandCheck> checks) {
        return runs(checks, BandCheck::status).stream()
                .filter(run -> run.get(0).status() == BandStatus.REJECTED)
                .map(run -> run.size() == 1
                        ? "the curve has no value at "
                                + InWords.hertz(run.get(0).hz())
                        : "the curve has no value in " + run.size() + " bands from "
                                + InWords.range(
                                        run.get(0).hz(), run.get(run.size() - 1).hz()))
                .map(words -> words + "; record again with more signal there")
                .collect(Collectors.toList());
    }

    private static @Nullable Side violated(BandCheck check) {
        return check.conformity() == Conformity.OUTSIDE ? check.side() : null;
    }

    private static <K> List<List<BandCheck>> runs(List<BandCheck> checks, Function<BandCheck, K> key) {
        List<List<BandCheck>> out = new ArrayList<>();
        K last = null;
        for (BandCheck check : checks) {
            K now = key.apply(check);
            if (out.isEmpty() || !now.equals(last)) {
                out.add(new ArrayList<>());
            }
            out.get(out.size() - 1).add(check);
            last = now;
        }
        return out;
    }
}
