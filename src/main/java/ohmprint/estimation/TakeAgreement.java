package ohmprint.estimation;

import java.util.Arrays;
import java.util.stream.IntStream;
import ohmprint.circuit.Load;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.univariate.BrentOptimizer;
import org.apache.commons.math3.optim.univariate.SearchInterval;
import org.apache.commons.math3.optim.univariate.UnivariateObjectiveFunction;
import org.apache.commons.math3.optim.univariate.UnivariatePointValuePair;

/**
 * Whether more than two takes lie on one line, and which does not.
 *
 * <p>Each take is left out in turn; the one without which the others agree best is suspected. Two explanations for it are
 * compared by what they leave unexplained: another load, {@code y = G' + Y_in} with G' free, and another level, D·g with g
 * free. Both are single numbers for the whole frequency range.
 *
 * @param misfit relative amplitude that the model leaves unexplained with all takes as entered, beyond the noise
 * @param visible misfit from which on it means something, allowing for how well the noise is known
 * @param misfitWithout the same without the suspected take; NaN with fewer than four different loads
 * @param gainSpread standard uncertainty of ln g of every take that would leave such a misfit; 0 where the misfit is below
 *     what the noise allows to be seen
 * @param suspect index of the suspected take, −1 for none or when there is nothing to suspect
 * @param fittingOhm load in ohms that would fit the suspected take; positive infinity for none at all
 * @param fittingLevelDb level change in dB that would fit it instead
 * @param levelExplainsBetter whether the level leaves less unexplained than the load
 */
public record TakeAgreement(
        double misfit,
        double visible,
        double misfitWithout,
        double gainSpread,
        int suspect,
        double fittingOhm,
        double fittingLevelDb,
        boolean levelExplainsBetter) {
    private static final int CELLS_PER_OCTAVE = 36;
    private static final int BANDS_PER_OCTAVE = 6;
    private static final double FROM_HZ = 50;
    private static final double TO_HZ = 12_000;
    private static final double LEAST_SIEMENS = 1e-6;
    private static final double MOST_SIEMENS = 1;
    private static final int COARSE_STEPS = 48;
    private static final double GAIN_STEP = 0.01;
    private static final double FEW_FREEDOM = 1.5;
    private static final double LARGEST_LOG_GAIN = 1.5;
    private static final double OPEN_ABOVE_OHM = 2e5;
    /** Misfit that a level or a load off by about a per cent leaves. */
    private static final double VISIBLE = 0.01;
    /** The same where the noise of the bins is known on average only. */
    private static final double VISIBLE_ROUGHLY = 0.06;
    /** Misfit below which no take is suspected: what 0.01 dB in one take leaves. */
    private static final double NO_SUSPICION = 3e-4;

    /**
     * Examines the takes.
     *
     * @param obs what three or more takes hold
     * @param takes what each take was said to drive
     */
    public static TakeAgreement of(BinObservations obs, LoadedTakes takes) {
        double least = obs.isNoiseOnAverage() ? VISIBLE_ROUGHLY : VISIBLE;
        Cells cells = new Cells(obs.merged(CELLS_PER_OCTAVE), FrequencyBands.within(BANDS_PER_OCTAVE, FROM_HZ, TO_HZ));
        double all = cells.misfit(takes);
        double spread = all < NO_SUSPICION || obs.isNoiseOnAverage() ? 0 : gainSpread(cells, takes);
        if (takes.distinctLoads() < 4 || all < NO_SUSPICION) {
            return new TakeAgreement(all, least, Double.NaN, spread, -1, Double.NaN, Double.NaN, false);
        }
        int suspect = -1;
        double best = Double.POSITIVE_INFINITY;
        for (int j = 0; j < takes.size(); j++) {
            int left = j;
            int[] kept = IntStream.range(0, takes.size()).filter(k -> k != left).toArray();
            double without = takes.only(kept).distinctLoads() < 3
                    ? Double.POSITIVE_INFINITY
                    : cells.with(cells.bins().only(kept)).misfit(takes.only(kept));
            if (without < best) {
                best = without;
                suspect = j;
            }
        }
        if (suspect < 0) {
            return new TakeAgreement(all, least, Double.NaN, spread, -1, Double.NaN, Double.NaN, false);
        }
        int j = suspect;
        UnivariatePointValuePair load = minimum(
                g -> cells.misfit(takes.withLoad(j, Load.ofOhms(Math.exp(-g), 0))),
                Math.log(LEAST_SIEMENS),
                Math.log(MOST_SIEMENS));
        UnivariatePointValuePair level = minimum(
                g -> cells.with(rescaled(cells.bins(), j, Math.exp(-g))).misfit(takes),
                -LARGEST_LOG_GAIN,
                LARGEST_LOG_GAIN);
        double ohm = Math.exp(-load.getPoint());
        return new TakeAgreement(
                all,
                least,
                best,
                spread,
                suspect,
                ohm > OPEN_ABOVE_OHM ? Double.POSITIVE_INFINITY : ohm,
                20 * Math.log10(Math.exp(level.getPoint())),
                level.getValue() < load.getValue());
    }

    /**
     * Gains that explain the misfit: its square is a quadratic form of the ln g_k, whose diagonal H is found by moving each
     * gain to both sides; equal and independent gains of variance s² leave {@code s²·ΣH}. With three loads it rests on one
     * degree of freedom, so a factor guards against a small draw.
     */
    private static double gainSpread(Cells cells, LoadedTakes takes) {
        double here = cells.unexplained(takes);
        double curvature = 0;
        for (int k = 0; k < takes.size(); k++) {
            double up =
                    cells.with(rescaled(cells.bins(), k, Math.exp(GAIN_STEP))).unexplained(takes);
            double down =
                    cells.with(rescaled(cells.bins(), k, Math.exp(-GAIN_STEP))).unexplained(takes);
            curvature += Math.max(0, (up + down - 2 * here) / (2 * GAIN_STEP * GAIN_STEP));
        }
        return curvature > 0 ? FEW_FREEDOM * Math.sqrt(Math.max(0, here) / curvature) : 0;
    }

    /** Coarse search, then Brent's method around the best step. */
    private static UnivariatePointValuePair minimum(
            org.apache.commons.math3.analysis.UnivariateFunction f, double from, double to) {
        double step = (to - from) / COARSE_STEPS;
        double best = from;
        double value = Double.POSITIVE_INFINITY;
        for (int i = 0; i <= COARSE_STEPS; i++) {
            double v = f.value(from + i * step);
            if (v < value) {
                value = v;
                best = from + i * step;
            }
        }
        return new BrentOptimizer(1e-6, 1e-9)
                .optimize(
                        new MaxEval(100),
                        new UnivariateObjectiveFunction(f),
                        GoalType.MINIMIZE,
                        new SearchInterval(Math.max(from, best - step), Math.min(to, best + step), best));
    }

    private static BinObservations rescaled(BinObservations cells, int take, double factor) {
        double[][] re = new double[cells.takes()][cells.size()];
        for (int k = 0; k < re.length; k++) {
            Arrays.fill(re[k], k == take ? 1 / factor : 1);
        }
        return cells.dividedBy(re, new double[cells.takes()][cells.size()]);
    }

    /** Cells on coarse bands. */
    private record Cells(BinObservations bins, FrequencyBands bands) {
        Cells with(BinObservations others) {
            return new Cells(others, bands);
        }

        /** Root of {@link #unexplained}. */
        double misfit(LoadedTakes takes) {
            return Math.sqrt(Math.max(0, unexplained(takes)));
        }

        /** Unexplained power, less the noise, over signal power; median of the bands; may be negative by chance. */
        double unexplained(LoadedTakes takes) {
            double[] share = BandSolver.leftover(bins, takes, bands).stream()
                    .mapToDouble(left -> (left.fit().residual()
                                    - bins.averages()
                                            * (takes.size() - 1)
                                            * left.fit().bins())
                            / left.signal())
                    .sorted()
                    .toArray();
            return share.length == 0 ? Double.NaN : share[share.length / 2];
        }
    }
}
