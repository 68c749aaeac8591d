package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import org.apache.commons.math3.complex.Complex;

/**
 * What each take drives: its load in parallel with the recording input.
 *
 * @param loads one load per take
 * @param input the recording input that all takes share
 * @param names what each take is called in words for a reader
 */
public record LoadedTakes(List<Load> loads, InputImpedance input, List<String> names) {
    private static final List<String> NUMBERED = numbers(16);

    /** Copies the lists. */
    public LoadedTakes {
        loads = List.copyOf(loads);
        names = List.copyOf(names);
        if (names.size() != loads.size()) {
            throw new IllegalArgumentException(loads.size() + " takes need as many names, not " + names.size());
        }
    }

    /** Takes that are called {@code take 1} and so on. */
    public LoadedTakes(List<Load> loads, InputImpedance input) {
        this(loads, input, numbered(loads.size()));
    }

    private static List<String> numbered(int size) {
        return size <= NUMBERED.size() ? NUMBERED.subList(0, size) : numbers(size);
    }

    private static List<String> numbers(int size) {
        return IntStream.rangeClosed(1, size).mapToObj(k -> "take " + k).toList();
    }

    /** Number of takes K. */
    public int size() {
        return loads.size();
    }

    /** Number of loads of different resistance. */
    long distinctLoads() {
        return loads.stream().mapToDouble(Load::conductance).distinct().count();
    }

    /**
     * Load admittances {@code y_k = G_k + Y_in} at one frequency.
     *
     * @param hz frequency in hertz
     * @param re receives the K conductances, siemens
     * @param im receives the K susceptances, siemens
     */
    public void admittances(double hz, double[] re, double[] im) {
        Complex common = input.admittance(hz);
        for (int k = 0; k < loads.size(); k++) {
            re[k] = loads.get(k).conductance() + common.getReal();
            im[k] = common.getImaginary();
        }
    }

    /** The same input with some of the takes. */
    public LoadedTakes only(int[] kept) {
        return new LoadedTakes(
                Arrays.stream(kept).mapToObj(loads::get).toList(),
                input,
                Arrays.stream(kept).mapToObj(names::get).toList());
    }

    /** The same takes with another load in take {@code k}. */
    public LoadedTakes withLoad(int k, Load load) {
        List<Load> changed = new ArrayList<>(loads);
        changed.set(k, load);
        return new LoadedTakes(changed, input, names);
    }
}
