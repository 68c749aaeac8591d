package ohmprint.estimation;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import org.apache.commons.math3.complex.Complex;

/**
 * What takes of a circuit would hold: one snapshot {@code A·g_k·e^(−jωτ_k)/(1 + Z·y_k) + n_k} per bin, from the circuit's
 * formula. A is 1; the complex noise has the variance σ² in every take.
 */
final class CircuitBins {
    private final SourceModel source;
    private final LoadedTakes takes;
    private final double variance;
    private final double[] gain;
    private final double[] delay;

    private CircuitBins(SourceModel source, LoadedTakes takes, double variance, double[] gain, double[] delay) {
        this.source = source;
        this.takes = takes;
        this.variance = variance;
        this.gain = gain;
        this.delay = delay;
    }

    /** Takes of a source, without deviations; σ² is what the observations state as noise. */
    static CircuitBins of(SourceModel source, LoadedTakes takes, double variance) {
        double[] gain = new double[takes.size()];
        Arrays.fill(gain, 1);
        return new CircuitBins(source, takes, variance, gain, new double[takes.size()]);
    }

    /** Resistors of exactly known value, and nothing else across the source. */
    static LoadedTakes resistorsOnly(double... ohms) {
        return new LoadedTakes(
                DoubleStream.of(ohms).mapToObj(r -> Load.ofOhms(r, 0)).toList(), InputImpedance.unknown());
    }

    /** Resistors of exactly known value over an exactly known input. */
    static LoadedTakes resistors(InputImpedance input, double... ohms) {
        List<Load> loads =
                DoubleStream.of(ohms).mapToObj(r -> Load.ofOhms(r, 0)).toList();
        return new LoadedTakes(loads, input);
    }

    /**
     * Random numbers of a session. Consecutive seeds of {@link Random} give nearly the same first number; mixing them makes
     * the sessions of consecutive seeds independent.
     */
    static Random seeded(long seed) {
        return new Random(new SplittableRandom(seed).nextLong());
    }

    /** An impedance that is the same at every frequency. */
    static SourceModel constant(double re, double im) {
        return hz -> new Complex(re, im);
    }

    /** {@code count} frequencies, evenly spaced in ln f from one frequency to another. */
    static double[] frequencies(double fromHz, double toHz, int count) {
        double[] hz = new double[count];
        Arrays.setAll(hz, i -> fromHz * Math.pow(toHz / fromHz, count == 1 ? 0 : i / (count - 1.0)));
        return hz;
    }

    CircuitBins withGain(int take, double factor) {
        double[] changed = gain.clone();
        changed[take] = factor;
        return new CircuitBins(source, takes, variance, changed, delay);
    }

    CircuitBins withDelay(int take, double seconds) {
        double[] changed = delay.clone();
        changed[take] = seconds;
        return new CircuitBins(source, takes, variance, gain, changed);
    }

    /** Without noise, though σ² is stated. */
    BinObservations exact(double... hz) {
        return at(hz, 0, new Random(0));
    }

    /** With noise. */
    BinObservations noisy(Random random, double... hz) {
        return at(hz, Math.sqrt(variance / 2), random);
    }

    /** Complex amplitude of take {@code k} without noise. */
    Complex amplitude(int k, double hz) {
        Complex y = Divider.admittance(takes.loads().get(k), takes.input(), hz);
        Complex late = new Complex(0, -2 * Math.PI * hz * delay[k]).exp();
        return Divider.response(source.impedance(hz), y).multiply(late).multiply(gain[k]);
    }

    private BinObservations at(double[] hz, double partSd, Random random) {
        BinObservations obs = new BinObservations(takes.size(), hz, 1);
        double[] re = new double[takes.size()];
        double[] im = new double[takes.size()];
        for (int i = 0; i < hz.length; i++) {
            for (int k = 0; k < takes.size(); k++) {
                Complex d = amplitude(k, hz[i]);
                re[k] = d.getReal() + partSd * random.nextGaussian();
                im[k] = d.getImaginary() + partSd * random.nextGaussian();
                obs.setNoise(i, k, variance);
            }
            obs.setSnapshot(i, re, im);
        }
        return obs;
    }
}
