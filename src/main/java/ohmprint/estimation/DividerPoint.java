package ohmprint.estimation;

import java.util.List;
import ohmprint.estimation.Nuisance.NuisanceOffsets;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * The dividers of all takes at one frequency and one value of Z: {@code h_k = 1/(1 + Z·y_k)} and its derivative. A
 * reused workspace of the solvers, not a value.
 */
final class DividerPoint {
    private final LoadedTakes takes;
    private final @Nullable NuisanceOffsets departures;
    private final double[] yRe;
    private final double[] yIm;
    private final double[] hRe;
    private final double[] hIm;
    private double hz;
    private double zRe;
    private double zIm;
    private List<Complex> inputEffects = List.of();

    /** The takes as entered. */
    DividerPoint(LoadedTakes takes) {
        this(takes, null);
    }

    /** The takes with loads and input departing from what was entered. */
    DividerPoint(LoadedTakes takes, @Nullable NuisanceOffsets departures) {
        this.takes = takes;
        this.departures = departures;
        int k = takes.size();
        yRe = new double[k];
        yIm = new double[k];
        hRe = new double[k];
        hIm = new double[k];
    }

    /** Moves to a frequency in hertz; {@link #impedance} has to follow. */
    void frequency(double frequency) {
        hz = frequency;
        takes.admittances(frequency, yRe, yIm);
        if (departures != null) {
            departures.shift(takes, frequency, yRe, yIm);
        }
    }

    /** Sets Z in ohms at the present frequency. */
    void impedance(double re, double im) {
        zRe = re;
        zIm = im;
        for (int k = 0; k < yRe.length; k++) {
            double a = 1 + re * yRe[k] - im * yIm[k];
            double b = re * yIm[k] + im * yRe[k];
            double d = a * a + b * b;
            hRe[k] = a / d;
            hIm[k] = -b / d;
        }
    }

    /** Fetches what one standard uncertainty of each influence on the input does here. */
    void loadInputEffects() {
        inputEffects = takes.input().standardEffects(hz);
    }

    double zRe() {
        return zRe;
    }

    double zIm() {
        return zIm;
    }

    double hz() {
        return hz;
    }

    double yRe(int k) {
        return yRe[k];
    }

    double yIm(int k) {
        return yIm[k];
    }

    double hRe(int k) {
        return hRe[k];
    }

    double hIm(int k) {
        return hIm[k];
    }

    /** Real part of Z·h_k, ohms. */
    double zhRe(int k) {
        return zRe * hRe[k] - zIm * hIm[k];
    }

    /** Imaginary part of Z·h_k, ohms. */
    double zhIm(int k) {
        return zRe * hIm[k] + zIm * hRe[k];
    }

    double inputEffectRe(int index) {
        return inputEffects.get(index).getReal();
    }

    double inputEffectIm(int index) {
        return inputEffects.get(index).getImaginary();
    }
}
