package ohmprint.study;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.ResistorSeries;
import ohmprint.estimation.LoadedTakes;

/** Loads of a session as multiples of |Z| at 1 kHz, rounded to the E12 series; infinity for none. */
enum LoadSet {
    TWO("2", 0.8, 8),
    THREE("3", 0.7, 2, 8),
    FOUR("4", 0.5, 1.2, 3.5, Double.POSITIVE_INFINITY),
    TWO_AND_FIRST("2 and the first again", 0.8, 8, 0.8),
    /** In cells of what follows from a curve only. */
    THREE_AND_FIRST("3 and the first again", 0.7, 2, 8, 0.7);

    /** Those of the coherent routes. */
    static final List<LoadSet> COHERENT = List.of(TWO, THREE, FOUR, TWO_AND_FIRST);

    private static final double INPUT_OHM = 3000;
    private static final double INPUT_PF = 470;

    private final String words;
    private final double[] multiples;

    LoadSet(String words, double... multiples) {
        this.words = words;
        this.multiples = multiples;
    }

    /** For tables. */
    String words() {
        return words;
    }

    /** Number of takes. */
    int takes() {
        return multiples.length;
    }

    /** Number of different loads. */
    int different() {
        return (int) DoubleStream.of(multiples).distinct().count();
    }

    /** What the manifest would state. */
    LoadedTakes stated(StudyCircuit circuit, Tolerance tolerance) {
        List<Load> loads = new ArrayList<>();
        for (double multiple : multiples) {
            loads.add(
                    Double.isInfinite(multiple)
                            ? Load.open()
                            : Load.ofOhms(nearest(multiple * circuit.nominalOhm()), tolerance.loadPercent()));
        }
        return new LoadedTakes(
                loads,
                InputImpedance.ofOhms(INPUT_OHM, tolerance.inputPercent(), INPUT_PF, tolerance.capacitancePercent()));
    }

    /** Resistors and input as they are: within their tolerances, a repeated resistor being the same one. */
    static LoadedTakes drawn(LoadedTakes stated, Tolerance tolerance, SplittableRandom random) {
        Map<Double, Load> resistors = new HashMap<>();
        List<Load> loads = new ArrayList<>();
        for (Load load : stated.loads()) {
            if (load.isOpen()) {
                loads.add(load);
            } else {
                loads.add(resistors.computeIfAbsent(
                        load.ohm(), ohm -> Load.ofOhms(ohm * within(tolerance.loadPercent(), random), 0)));
            }
        }
        return new LoadedTakes(
                loads,
                InputImpedance.ofOhms(
                        INPUT_OHM * within(tolerance.inputPercent(), random),
                        0,
                        INPUT_PF * within(tolerance.capacitancePercent(), random),
                        0));
    }

    private static double within(double percent, SplittableRandom random) {
        return 1 + percent / 100 * (2 * random.nextDouble() - 1);
    }

    private static double nearest(double ohm) {
        double best = Double.NaN;
        for (double value : ResistorSeries.E12.between(1, 1e6)) {
            if (Double.isNaN(best) || Math.abs(Math.log(value / ohm)) < Math.abs(Math.log(best / ohm))) {
                best = value;
            }
        }
        return best;
    }
}
