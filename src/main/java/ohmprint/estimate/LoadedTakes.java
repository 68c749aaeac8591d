package ohmprint.estimate;

import java.util.List;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import org.apache.commons.math3.complex.Complex;

/**
 * What each take drives: its load in parallel with the recording input.
 *
 * @param loads one load per take
 * @param input the recording input that all takes share
 */
public record LoadedTakes(List<Load> loads, InputImpedance input) {
    /** Copies the list. */
    public LoadedTakes {
        loads = List.copyOf(loads);
    }

    /** Number of takes K. */
    public int size() {
        return loads.size();
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
                java.util.Arrays.stream(kept).mapToObj(loads::get).toList(), input);
    }

    /** The same takes with another load in take {@code k}. */
    public LoadedTakes withLoad(int k, Load load) {
        List<Load> changed = new java.util.ArrayList<>(loads);
        changed.set(k, load);
        return new LoadedTakes(changed, input);
    }
}
