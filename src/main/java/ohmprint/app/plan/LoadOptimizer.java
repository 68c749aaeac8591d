package ohmprint.app.plan;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.UncertaintyPredictor;
import org.jspecify.annotations.Nullable;

/**
 * Finds the set of K different loads whose predicted relative uncertainty of |Z| is lowest in the worst band, when the
 * first load is recorded once more at the end. The loads lie apart by a factor, so that each says something of its own and
 * a wrong one can be told from its neighbour.
 *
 * <p>From a few spread-out starts each load in turn is exchanged for the best other one until none gets better. Where
 * there are few enough sets, all of them are then tried; most are dropped at the first band in which they are worse.
 */
final class LoadOptimizer {
    /** Sets that can be tried in a fraction of a second. */
    private static final double FEW = 30_000;

    /** A set has to be better by this part to take the place of another: rounding decides nothing. */
    private static final double BETTER = 1 - 1e-9;

    private final UncertaintyPredictor predictor;
    private final InputImpedance input;
    private final List<Load> candidates;
    private final double apart;

    private double best;
    private int @Nullable [] chosen;

    /**
     * A search.
     *
     * @param predictor foretells the uncertainty
     * @param input the recording input
     * @param candidates different loads, ascending
     * @param apart least ratio of two loads of a set, 1 or more
     */
    LoadOptimizer(UncertaintyPredictor predictor, InputImpedance input, List<Load> candidates, double apart) {
        this.predictor = predictor;
        this.input = input;
        this.candidates = candidates;
        this.apart = apart;
    }

    /** The takes of the best set, first load first and last, or null when there is no set of so many loads. */
    @Nullable
    LoadedTakes best(int size) {
        int n = candidates.size();
        if (n < size) {
            return null;
        }
        best = Double.POSITIVE_INFINITY;
        chosen = null;
        for (int start = 0; start < size; start++) {
            descend(spread(n, size, start));
        }
        if (combinations(n, size) <= FEW) {
            tryAll(new int[size], 1, 0);
        }
        return chosen == null ? null : takes(chosen);
    }

    /** Evenly spread over all candidates, with the one numbered {@code first} in front. */
    private static int[] spread(int n, int size, int first) {
        int[] at = new int[size];
        Arrays.setAll(at, i -> (int) Math.round((i + first) % size * (n - 1.0) / (size - 1)));
        return at;
    }

    private void descend(int[] at) {
        double now = judged(at, Double.POSITIVE_INFINITY);
        boolean moved = true;
        while (moved) {
            moved = false;
            for (int i = 0; i < at.length; i++) {
                int kept = at[i];
                for (int c = 0; c < candidates.size(); c++) {
                    int before = at[i];
                    at[i] = c;
                    double percent = judged(at, now);
                    if (percent < now * BETTER) {
                        now = percent;
                    } else {
                        at[i] = before;
                    }
                }
                moved |= at[i] != kept;
            }
        }
        keep(at, now);
    }

    /** Place 0 takes every candidate, the other places ascending ones. */
    private void tryAll(int[] at, int place, int from) {
        if (place == at.length) {
            for (int c = 0; c < candidates.size(); c++) {
                if (fits(at, 0, c)) {
                    at[0] = c;
                    keep(at, worst(at, best));
                }
            }
            return;
        }
        for (int c = from; c < candidates.size(); c++) {
            if (place == 1 || ratio(at[place - 1], c) >= apart) {
                at[place] = c;
                tryAll(at, place + 1, c + 1);
            }
        }
    }

    private void keep(int[] at, double percent) {
        if (percent < best * BETTER) {
            best = percent;
            chosen = at.clone();
        }
    }

    /** The worst band of a set, or infinite where two of its loads are too close or the same. */
    private double judged(int[] at, double enough) {
        return IntStream.range(0, at.length).allMatch(i -> fits(at, i, at[i]))
                ? worst(at, enough)
                : Double.POSITIVE_INFINITY;
    }

    private double worst(int[] at, double enough) {
        return predictor.worstPercent(takes(at), enough);
    }

    private LoadedTakes takes(int[] at) {
        List<Load> loads = new ArrayList<>();
        loads.add(candidates.get(at[0]));
        Arrays.stream(at, 1, at.length).sorted().mapToObj(candidates::get).forEach(loads::add);
        loads.add(candidates.get(at[0]));
        return new LoadedTakes(loads, input);
    }

    /** Whether candidate {@code c} may stand at a place beside what stands at the others. */
    private boolean fits(int[] at, int place, int c) {
        for (int i = 0; i < at.length; i++) {
            if (i != place && (at[i] == c || ratio(at[i], c) < apart)) {
                return false;
            }
        }
        return true;
    }

    private double ratio(int a, int b) {
        double x = candidates.get(a).conductance();
        double y = candidates.get(b).conductance();
        return Math.max(x, y) / Math.min(x, y);
    }

    /** n·(n − 1 over size − 1). */
    private static double combinations(int n, int size) {
        double count = n;
        for (int i = 1; i < size; i++) {
            count *= (double) (n - i) / i;
        }
        return count;
    }
}
