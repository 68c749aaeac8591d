package ohmprint.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import org.apache.commons.math3.complex.Complex;

/**
 * Solver of the power route: |Z| and R from three or more different loads, bounds of |Z| from two.
 *
 * <p>The sign of X cannot be told from resistive loads; both signs stay among the candidates, so that a susceptance of
 * the input that makes them differ widens the interval by itself.
 */
public final class PowerSolver {
    private static final double COVERAGE = 1.96;
    private static final double LEAST_SNR = Math.pow(10, 0.6);
    private static final double WORST_RELATIVE = 0.5;

    private final FrequencyBands bands;
    private final Priors priors;

    /**
     * A solver.
     *
     * @param bands grid on which values are wanted
     * @param priors what is believed about gains (delays do not matter here)
     */
    public PowerSolver(FrequencyBands bands, Priors priors) {
        this.bands = bands;
        this.priors = priors;
    }

    /**
     * Estimates |Z| on every band.
     *
     * @param obs power of the takes (diagonal only)
     * @param takes what each take drives
     */
    public CurveEstimate solve(BinObservations obs, LoadedTakes takes) {
        List<Nuisance> nuisances = priors.nuisances(takes);
        boolean bounded = takes.loads().stream().distinct().count() < 3;
        List<BandValue> values = new ArrayList<>();
        double[] scale = new double[bands.size()];
        for (int b = 0; b < bands.size(); b++) {
            int from = obs.firstAtOrAbove(bands.lowerEdge(b));
            int to = obs.firstAtOrAbove(bands.upperEdge(b));
            double snr = signalToNoise(obs, from, to);
            scale[b] = 1;
            if (to - from < 3 || !(snr > LEAST_SNR)) {
                values.add(BandValue.rejected(bands.midband(b), decibels(snr)));
            } else if (bounded) {
                values.add(interval(obs, takes, nuisances, from, to, b, snr));
            } else {
                values.add(value(PowerLevels.of(obs, from, to), takes, bands.midband(b), snr));
            }
        }
        return new CurveEstimate(bands, values, scale, 0, 0);
    }

    private BandValue value(PowerLevels levels, LoadedTakes takes, double hz, double snr) {
        int n = takes.size();
        double[] yRe = new double[n];
        double[] yIm = new double[n];
        takes.admittances(hz, yRe, yIm);
        double[] noise = new double[n];
        Arrays.fill(noise, levels.variance());
        PassiveProfile first = PassiveProfile.of(levels.logLevel(), noise, yRe, yIm);
        double[] drift = widened(noise, Math.pow(2 * priors.gain(), 2));
        double[] all = drift.clone();
        for (int k = 0; k < n; k++) {
            Load load = takes.loads().get(k);
            double share = load.conductance() * first.magnitudeOhm() / (1 + yRe[k] * first.magnitudeOhm());
            all[k] += Math.pow(2 * share * load.relativeStandardUncertainty(), 2);
        }
        PassiveProfile withDrift = PassiveProfile.of(levels.logLevel(), drift, yRe, yIm);
        PassiveProfile full = PassiveProfile.of(levels.logLevel(), all, yRe, yIm);
        double input = 0;
        for (Complex effect : takes.input().standardEffects(hz)) {
            double[] gMoved = widened(yRe, effect.getReal());
            double[] bMoved = widened(yIm, effect.getImaginary());
            input += Math.pow(
                    PassiveProfile.of(levels.logLevel(), all, gMoved, bMoved).magnitudeOhm() - full.magnitudeOhm(), 2);
        }
        double total = Math.hypot(halfWidth(full), COVERAGE * Math.sqrt(input));
        if (!(total < WORST_RELATIVE * full.magnitudeOhm())) {
            return BandValue.rejected(hz, decibels(snr));
        }
        double uNoise = halfWidth(first) / COVERAGE;
        double uDrift = halfWidth(withDrift) / COVERAGE;
        double uFull = halfWidth(full) / COVERAGE;
        BandBudget budget = new BandBudget(uNoise, beyond(uDrift, uNoise), beyond(uFull, uDrift), Math.sqrt(input), 0);
        return BandValue.magnitudeOnly(hz, full.magnitudeOhm(), full.resistanceOhm(), total, decibels(snr), budget);
    }

    /** The longer side of the 95 % interval around the median, ohms. */
    private static double halfWidth(PassiveProfile p) {
        return Math.max(p.highOhm() - p.magnitudeOhm(), p.magnitudeOhm() - p.lowOhm());
    }

    private static double beyond(double u, double without) {
        return Math.sqrt(Math.max(0, u * u - without * without));
    }

    private static double[] widened(double[] values, double by) {
        return Arrays.stream(values).map(v -> v + by).toArray();
    }

    /** Bounds from the two different loads, widened by what is uncertain about the ratio of their levels. */
    private BandValue interval(
            BinObservations obs, LoadedTakes takes, List<Nuisance> nuisances, int from, int to, int b, double snr) {
        double[] g = new double[takes.size()];
        takes.admittances(bands.midband(b), g, new double[takes.size()]);
        double largest = Arrays.stream(g).max().orElseThrow();
        double smallest = Arrays.stream(g).min().orElseThrow();
        PowerLevels levels = PowerLevels.of(obs, from, to);
        double[] level = levels.logLevel();
        double logRatio = 0;
        for (int k = 0; k < g.length; k++) {
            logRatio += g[k] == largest ? level[k] / count(g, largest) : -level[k] / count(g, smallest);
        }
        double u = Math.sqrt(2 * levels.variance() + 2 * Math.pow(2 * priors.gain(), 2));
        for (Nuisance n : nuisances) {
            if (n instanceof Nuisance.Resistor r) {
                u = Math.hypot(u, 2 * r.load().relativeStandardUncertainty());
            }
        }
        PowerInterval near = PowerInterval.of(Math.exp(logRatio + COVERAGE * u), largest, smallest);
        PowerInterval far = PowerInterval.of(Math.exp(logRatio - COVERAGE * u), largest, smallest);
        return Double.isFinite(far.highOhm())
                ? BandValue.interval(bands.midband(b), Math.max(0, near.lowOhm()), far.highOhm(), decibels(snr))
                : BandValue.rejected(bands.midband(b), decibels(snr));
    }

    private static long count(double[] values, double value) {
        return Arrays.stream(values).filter(v -> v == value).count();
    }

    private static double signalToNoise(BinObservations obs, int from, int to) {
        double worst = Double.POSITIVE_INFINITY;
        for (int k = 0; k < obs.takes(); k++) {
            double signal = 0;
            double noise = 0;
            for (int i = from; i < to; i++) {
                signal += obs.re(i, k, k) - obs.noise(i, k);
                noise += obs.noise(i, k);
            }
            worst = Math.min(worst, signal / noise);
        }
        return worst;
    }

    private static double decibels(double snr) {
        return snr > 0 && Double.isFinite(snr) ? 10 * Math.log10(snr) : Double.NaN;
    }
}
