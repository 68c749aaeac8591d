package ohmprint.estimate;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * Gains, delays, loads and input as they are if the nuisances depart from what was entered by given amounts, in standard
 * uncertainties: {@code g = e^(uθ)}, {@code τ = uθ}, {@code G = G₀·e^(−uθ)}, {@code Y_in = Y_0 + θ·δY}.
 *
 * <p>To first order this is {@link Nuisance#effect}; here it is carried out exactly, so that deviations of several per cent
 * leave nothing of second order behind.
 */
final class Departures {
    private final double[] logGain;
    private final double[] seconds;
    private final double[] loadFactor;
    private final double[] input;

    private Departures(int takes, double[] input) {
        logGain = new double[takes];
        seconds = new double[takes];
        loadFactor = new double[takes];
        this.input = input;
        Arrays.fill(loadFactor, 1);
    }

    /** Nothing departs from what was entered. */
    static Departures none(int takes) {
        return new Departures(takes, new double[0]);
    }

    /**
     * Departures of all nuisances.
     *
     * @param nuisances what may depart
     * @param amount by how much each does, in standard uncertainties
     * @param takes number of takes
     */
    static Departures of(List<Nuisance> nuisances, double[] amount, int takes) {
        int influences = (int)
                nuisances.stream().filter(Nuisance.Input.class::isInstance).count();
        Departures out = new Departures(takes, new double[influences]);
        for (int n = 0; n < amount.length; n++) {
            Nuisance one = nuisances.get(n);
            if (one instanceof Nuisance.Gain g) {
                out.logGain[g.take()] += g.relative() * amount[n];
            } else if (one instanceof Nuisance.Delay d) {
                out.seconds[d.take()] += d.seconds() * amount[n];
            } else if (one instanceof Nuisance.Resistor r) {
                for (int k = 0; k < takes; k++) {
                    if (r.used()[k]) {
                        out.loadFactor[k] *= Math.exp(-amount[n] * r.load().relativeStandardUncertainty());
                    }
                }
            } else if (one instanceof Nuisance.Input i) {
                out.input[i.index()] += amount[n];
            }
        }
        return out;
    }

    /** The takes with these gains and delays taken out. */
    BinObservations corrected(BinObservations obs) {
        if (Arrays.stream(logGain).allMatch(g -> g == 0)
                && Arrays.stream(seconds).allMatch(s -> s == 0)) {
            return obs;
        }
        double[][] re = new double[obs.takes()][obs.size()];
        double[][] im = new double[obs.takes()][obs.size()];
        for (int k = 0; k < re.length; k++) {
            double gain = Math.exp(logGain[k]);
            for (int i = 0; i < obs.size(); i++) {
                double phase = -2 * Math.PI * obs.hz(i) * seconds[k];
                re[k][i] = gain * Math.cos(phase);
                im[k][i] = gain * Math.sin(phase);
            }
        }
        return obs.dividedBy(re, im);
    }

    /** Moves the admittances of the takes at one frequency, in siemens. */
    void shift(LoadedTakes takes, double hz, double[] yRe, double[] yIm) {
        double re = 0;
        double im = 0;
        if (input.length > 0) {
            List<Complex> effects = takes.input().standardEffects(hz);
            for (int i = 0; i < input.length; i++) {
                re += input[i] * effects.get(i).getReal();
                im += input[i] * effects.get(i).getImaginary();
            }
        }
        for (int k = 0; k < yRe.length; k++) {
            yRe[k] += re + takes.loads().get(k).conductance() * (loadFactor[k] - 1);
            yIm[k] += im;
        }
    }
}
