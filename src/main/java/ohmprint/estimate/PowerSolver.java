package ohmprint.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

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
    private static final int LEAST_BINS = 3;
    /** Unknowns of a band: R and |Z|. */
    private static final int PARAMETERS = 2;
    /** Degrees of freedom from which the scatter between bands is believed. */
    private static final int POOLED_FREEDOM = 12;

    private static final double LEAST_SCALE = 0.02;

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
        double[] snr = new double[bands.size()];
        @Nullable PowerLevels[] byLikelihood = new PowerLevels[bands.size()];
        @Nullable PowerLevels[] byEnergy = new PowerLevels[bands.size()];
        for (int b = 0; b < bands.size(); b++) {
            int from = obs.firstAtOrAbove(bands.lowerEdge(b));
            int to = obs.firstAtOrAbove(bands.upperEdge(b));
            snr[b] = signalToNoise(obs, from, to);
            if (to - from >= LEAST_BINS && snr[b] > LEAST_SNR) {
                byLikelihood[b] = PowerLevels.byLikelihood(obs, from, to);
                byEnergy[b] = PowerLevels.byEnergy(obs, from, to);
            }
        }
        double scatter = bounded ? 1 : scatter(byLikelihood, takes);
        double scatterOfEnergy = bounded ? 1 : scatter(byEnergy, takes);
        @Nullable PowerLevels[] levels = scatterOfEnergy < scatter ? byEnergy : byLikelihood;
        double scale = Math.min(scatter, scatterOfEnergy);
        List<BandValue> values = new ArrayList<>();
        for (int b = 0; b < levels.length; b++) {
            PowerLevels level = levels[b];
            double hz = bands.midband(b);
            values.add(
                    level == null
                            ? BandValue.rejected(hz, decibels(snr[b]))
                            : bounded
                                    ? interval(level, takes, nuisances, hz, snr[b])
                                    : value(level, scale, takes, hz, snr[b]));
        }
        double[] scales = new double[levels.length];
        Arrays.fill(scales, scale);
        return new CurveEstimate(bands, values, scales, null, null);
    }

    /**
     * Observed over expected χ² of the best fits, pooled over all bands; 1 where the takes have nothing to spare. Noise
     * from a generator with an even spectrum scatters less from band to band than random noise, drift scatters more.
     */
    private double scatter(@Nullable PowerLevels[] levels, LoadedTakes takes) {
        double sum = 0;
        int freedom = 0;
        for (int b = 0; b < levels.length; b++) {
            PowerLevels level = levels[b];
            if (level != null) {
                double[] yRe = new double[takes.size()];
                double[] yIm = new double[takes.size()];
                takes.admittances(bands.midband(b), yRe, yIm);
                double[] variance = new double[takes.size()];
                Arrays.fill(variance, level.variance() + driftVariance());
                sum += PassiveProfile.of(level.logLevel(), variance, yRe, yIm).chiSquare();
                freedom += takes.size() - PARAMETERS - 1;
            }
        }
        return freedom < POOLED_FREEDOM ? 1 : Math.max(LEAST_SCALE, sum / freedom);
    }

    private double driftVariance() {
        return Math.pow(2 * priors.gain(), 2);
    }

    private BandValue value(PowerLevels levels, double scale, LoadedTakes takes, double hz, double snr) {
        int n = takes.size();
        double[] yRe = new double[n];
        double[] yIm = new double[n];
        takes.admittances(hz, yRe, yIm);
        double[] noise = new double[n];
        Arrays.fill(noise, scale * levels.variance());
        PassiveProfile first = PassiveProfile.of(levels.logLevel(), noise, yRe, yIm);
        double[] drift = widened(noise, scale * driftVariance());
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
            double moved =
                    PassiveProfile.of(levels.logLevel(), all, gMoved, bMoved).magnitudeOhm();
            input += Math.pow(moved - full.magnitudeOhm(), 2);
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
    private BandValue interval(PowerLevels levels, LoadedTakes takes, List<Nuisance> nuisances, double hz, double snr) {
        double[] g = new double[takes.size()];
        takes.admittances(hz, g, new double[takes.size()]);
        double largest = Arrays.stream(g).max().orElseThrow();
        double smallest = Arrays.stream(g).min().orElseThrow();
        double[] level = levels.logLevel();
        double logRatio = 0;
        for (int k = 0; k < g.length; k++) {
            logRatio += g[k] == largest ? level[k] / count(g, largest) : -level[k] / count(g, smallest);
        }
        double u = Math.sqrt(2 * levels.variance() + 2 * driftVariance());
        for (Nuisance n : nuisances) {
            if (n instanceof Nuisance.Resistor r) {
                u = Math.hypot(u, 2 * r.load().relativeStandardUncertainty());
            }
        }
        if (logRatio > COVERAGE * u) {
            return BandValue.rejected(hz, decibels(snr));
        }
        PowerInterval near = PowerInterval.of(Math.exp(logRatio + COVERAGE * u), largest, smallest);
        PowerInterval far = PowerInterval.of(Math.exp(logRatio - COVERAGE * u), largest, smallest);
        double low = Math.min(near.lowOhm(), far.lowOhm());
        double high = Math.max(near.highOhm(), far.highOhm());
        return Double.isFinite(high)
                ? BandValue.interval(hz, Math.max(0, low), high, decibels(snr))
                : BandValue.rejected(hz, decibels(snr));
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
