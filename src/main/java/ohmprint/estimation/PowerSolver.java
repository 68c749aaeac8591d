package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.circuit.Load;
import ohmprint.estimation.PowerLevels.Scatter;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceOutline;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/**
 * Solver of the power route: |Z| and R from three or more different loads, bounds of |Z| from two.
 *
 * <p>The sign of X cannot be told from resistive loads; both signs stay among the candidates, so that a susceptance of
 * the input that makes them differ widens the interval by itself.
 */
public final class PowerSolver {
    private static final double COVERAGE = CoverageFactor.NORMAL;
    private static final double WORST_RELATIVE = 0.5;
    private static final int LEAST_BINS = 3;

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
            if (to - from >= LEAST_BINS && snr[b] > BandUncertainty.LEAST_SNR) {
                PowerLevels likelihood = PowerLevels.byLikelihood(obs, from, to);
                byLikelihood[b] = likelihood;
                byEnergy[b] = PowerLevels.byEnergy(obs, from, to, likelihood.variance());
            }
        }
        Scatter ofLikelihood = bounded ? Scatter.believed(priors) : Scatter.of(byLikelihood, bands, takes, priors);
        Scatter ofEnergy = bounded ? ofLikelihood : Scatter.of(byEnergy, bands, takes, priors);
        boolean even = ofEnergy.noiseScale() < ofLikelihood.noiseScale();
        @Nullable PowerLevels[] levels = even ? byEnergy : byLikelihood;
        Scatter scatter = even ? ofEnergy : ofLikelihood;
        List<BandValue> values = new ArrayList<>();
        for (int b = 0; b < levels.length; b++) {
            PowerLevels level = levels[b];
            double hz = bands.midband(b);
            values.add(
                    level == null
                            ? BandValue.rejected(hz, decibels(snr[b]))
                            : bounded
                                    ? interval(level, takes, nuisances, hz, snr[b])
                                    : value(level, scatter, takes, hz, snr[b]));
        }
        double[] scales = new double[levels.length];
        Arrays.fill(scales, scatter.noiseScale());
        return new CurveEstimate(bands, values, scales, null, null);
    }

    private double driftVariance() {
        return Math.pow(2 * priors.gain(), 2);
    }

    private BandValue value(PowerLevels levels, Scatter scatter, LoadedTakes takes, double hz, double snr) {
        int n = takes.size();
        double[] yRe = new double[n];
        double[] yIm = new double[n];
        takes.admittances(hz, yRe, yIm);
        double[] noise = new double[n];
        Arrays.fill(noise, scatter.noiseScale() * levels.variance());
        double[] drift = widened(noise, scatter.driftVariance());
        double[] level = levels.logLevel();
        PassiveProfile withDrift = PassiveProfile.of(level, drift, yRe, yIm, COVERAGE);
        double[] all = drift.clone();
        for (int k = 0; k < n; k++) {
            Load load = takes.loads().get(k);
            double share = load.conductance() * withDrift.magnitudeOhm() / (1 + yRe[k] * withDrift.magnitudeOhm());
            all[k] += Math.pow(2 * share * load.relativeStandardUncertainty(), 2);
        }
        PassiveProfile full = withDrift.near(level, all, yRe, yIm, COVERAGE);
        PassiveProfile first = full.near(level, noise, yRe, yIm, COVERAGE);
        double input = 0;
        for (Complex effect : takes.input().standardEffects(hz)) {
            double[] gMoved = widened(yRe, effect.getReal());
            double[] bMoved = widened(yIm, effect.getImaginary());
            double moved = full.near(level, all, gMoved, bMoved, COVERAGE).magnitudeOhm();
            input += Math.pow(moved - full.magnitudeOhm(), 2);
        }
        double uNoise = halfWidth(first) / COVERAGE;
        double uDrift = halfWidth(withDrift) / COVERAGE;
        double uFull = halfWidth(full) / COVERAGE;
        BandBudget budget = new BandBudget(uNoise, beyond(uDrift, uNoise), beyond(uFull, uDrift), Math.sqrt(input), 0);
        double factor = CoverageFactor.student(scatter.freedom(budget));
        PassiveProfile stated = factor == COVERAGE ? full : full.near(level, all, yRe, yIm, factor);
        double half = halfWidth(stated);
        double total = Math.hypot(half, factor * Math.sqrt(input));
        if (!(total < WORST_RELATIVE * full.magnitudeOhm())) {
            return BandValue.rejected(hz, decibels(snr));
        }
        return BandValue.magnitudeOnly(
                hz,
                full.magnitudeOhm(),
                full.resistanceOhm(),
                total,
                decibels(snr),
                budget,
                grown(stated.outline(level, all, yRe, yIm, factor), stated, total / half));
    }

    /** The outline, farther from the best fit by a factor: that of the input, which the profile does not hold. */
    private static ImpedanceOutline grown(ImpedanceOutline outline, PassiveProfile p, double by) {
        double z = p.magnitudeOhm();
        double r = p.resistanceOhm();
        return new ImpedanceOutline(
                outline.resistanceOhm().stream().map(v -> r + by * (v - r)).toList(),
                outline.magnitudeOhm().stream().map(v -> z + by * (v - z)).toList());
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

    /** Bounds from the two different loads, widened by what is uncertain about the ratio of their levels and about the input. */
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
        double beyond = Math.exp(COVERAGE * u);
        double ratio = Math.exp(logRatio);
        PowerInterval plain = PowerInterval.of(ratio, largest, smallest);
        PowerInterval near = PowerInterval.of(ratio * beyond, largest, smallest);
        PowerInterval far = PowerInterval.of(ratio / beyond, largest, smallest);
        double below = Math.pow(plain.lowOhm() - Math.min(near.lowOhm(), far.lowOhm()), 2);
        double above = Math.pow(Math.max(near.highOhm(), far.highOhm()) - plain.highOhm(), 2);
        for (Complex effect : takes.input().standardEffects(hz)) {
            double moved = Math.min(smallest, COVERAGE * Math.abs(effect.getReal()));
            PowerInterval more = PowerInterval.of(ratio, largest + moved, smallest + moved);
            PowerInterval less = PowerInterval.of(ratio, largest - moved, smallest - moved);
            below += Math.pow(plain.lowOhm() - Math.min(more.lowOhm(), less.lowOhm()), 2);
            above += Math.pow(Math.max(more.highOhm(), less.highOhm()) - plain.highOhm(), 2);
        }
        double low = plain.lowOhm() - Math.sqrt(below);
        double high = plain.highOhm() + Math.sqrt(above);
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

    /**
     * What two loads say about |Z| when only levels are known: bounds, not a value.
     *
     * <p>With the power ratio {@code ρ = P_a/P_b = |1 + Z·G_b|²/|1 + Z·G_a|²} one equation stands against two unknowns. Of
     * all Z with R ≥ 0 that satisfy it, the purely resistive one, {@code |Z| = (1 − √ρ)/(√ρ·G_a − G_b)}, and the purely
     * reactive one, {@code √((1 − ρ)/(ρ·G_a² − G_b²))}, are the extremes (G_a > G_b); below 1/√(G_a·G_b) the resistive one is
     * the smaller, above it the larger.
     *
     * @param lowOhm lower bound of |Z| in ohms
     * @param highOhm upper bound in ohms; positive infinity when the ratio does not bound it
     */
    record PowerInterval(double lowOhm, double highOhm) {
        /**
         * Bounds for one ratio.
         *
         * @param ratio ρ, between (G_b/G_a)² and 1
         * @param gA larger load conductance, siemens
         * @param gB smaller load conductance, siemens
         */
        static PowerInterval of(double ratio, double gA, double gB) {
            double root = Math.sqrt(Math.min(1, ratio));
            double resistive = root * gA > gB ? (1 - root) / (root * gA - gB) : Double.POSITIVE_INFINITY;
            double denominator = ratio * gA * gA - gB * gB;
            double reactive =
                    denominator > 0 ? Math.sqrt(Math.max(0, 1 - ratio) / denominator) : Double.POSITIVE_INFINITY;
            return new PowerInterval(Math.min(resistive, reactive), Math.max(resistive, reactive));
        }
    }
}
