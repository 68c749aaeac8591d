package ohmprint.app.measure;

import java.util.Arrays;
import java.util.Collection;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.circuit.InputImpedance;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.LoadedTakes;
import ohmprint.session.Take;

/**
 * Takes that are compared with each other, with what they hold and what they drive. A set does not change.
 *
 * <p>A take is known by its entry in the session, whichever other takes are left out: {@link #without} makes a smaller set of
 * the same takes. Only {@link #index} tells where a take stands in the observations, for those who compute with them.
 */
final class TakeSet {
    /** Place of each take of the session in the order of recording; two entries that say the same are two takes. */
    private final IdentityHashMap<Take, Integer> places;

    private final List<Take> takes;
    private final InputImpedance input;
    private final BinObservations bins;

    private TakeSet(
            IdentityHashMap<Take, Integer> places, List<Take> takes, InputImpedance input, BinObservations bins) {
        this.places = places;
        this.takes = takes;
        this.input = input;
        this.bins = bins;
    }

    /**
     * Some takes of a session.
     *
     * @param session all its takes in the order of recording
     * @param held those that are compared, in the same order
     * @param input the recording input that all share
     * @param bins what they hold
     */
    static TakeSet of(List<Take> session, List<Take> held, InputImpedance input, BinObservations bins) {
        if (held.size() != bins.takes()) {
            throw new IllegalArgumentException(held.size() + " takes, but observations of " + bins.takes());
        }
        IdentityHashMap<Take, Integer> places = new IdentityHashMap<>();
        for (Take take : session) {
            places.put(take, places.size());
        }
        return new TakeSet(places, List.copyOf(held), input, bins);
    }

    /** Its takes in the order of recording. */
    List<Take> takes() {
        return takes;
    }

    /** Number of takes. */
    int size() {
        return takes.size();
    }

    /** What they hold. */
    BinObservations bins() {
        return bins;
    }

    /** What they drive. */
    LoadedTakes loads() {
        return new LoadedTakes(
                takes.stream().map(Take::load).toList(),
                input,
                takes.stream().map(Take::file).toList());
    }

    /** Whether this take is one of them. */
    boolean holds(Take take) {
        return takes.stream().anyMatch(t -> place(t) == place(take));
    }

    /** Where a take stands in the order of recording, those counted that are left out. */
    int place(Take take) {
        Integer place = places.get(take);
        if (place == null) {
            throw new IllegalArgumentException(take.file() + " is no take of this session");
        }
        return place;
    }

    /** Where a take stands in {@link #bins} and {@link #loads}. */
    int index(Take take) {
        for (int k = 0; k < takes.size(); k++) {
            if (place(takes.get(k)) == place(take)) {
                return k;
            }
        }
        throw new IllegalArgumentException(take.file() + " is left out");
    }

    /** All but one. */
    TakeSet without(Take take) {
        return only(takes.stream().filter(t -> place(t) != place(take)).toList());
    }

    /** Some of them, in the order of recording. */
    TakeSet only(Collection<Take> some) {
        int[] kept = some.stream().mapToInt(this::index).sorted().toArray();
        return kept.length == takes.size()
                ? this
                : new TakeSet(places, Arrays.stream(kept).mapToObj(takes::get).toList(), input, bins.only(kept));
    }

    /** The same takes at other levels: each divided by its gain. */
    TakeSet dividedBy(ToDoubleFunction<Take> gain) {
        double[][] real = new double[takes.size()][bins.size()];
        for (int k = 0; k < real.length; k++) {
            Arrays.fill(real[k], gain.applyAsDouble(takes.get(k)));
        }
        return new TakeSet(places, takes, input, bins.dividedBy(real, new double[takes.size()][bins.size()]));
    }

    /** Number of different loads of some takes. */
    static long differentLoads(Collection<Take> takes) {
        return takes.stream()
                .mapToDouble(t -> t.load().conductance())
                .distinct()
                .count();
    }
}
