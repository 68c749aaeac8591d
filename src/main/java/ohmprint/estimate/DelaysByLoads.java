package ohmprint.estimate;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Stream;
import ohmprint.circuit.Load;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * Delays between takes of three or more loads, told by the loads themselves.
 *
 * <p>With K different loads the K − 1 complex ratios of a bin depend on one Z; what they cannot share is delay. The delays
 * τ_k minimise the unexplained power over signal power, summed over sixths of an octave with a Z of its own in each, by
 * Newton's method on differences. A delay leaves the points of {@code 1/D_k} against y_k off their line by a phase that
 * grows with frequency, which neither loads nor gains do. When playing and recording were on two clocks, each take may
 * also run at a rate of its own: {@code τ_k + δ_k·(t(f) − t(f_0))}, where t(f) is when a sweep passes f and f_0 is {@value ohmprint.estimate.DelayMisfit#MIDDLE_HZ} Hz.
 *
 * @param seconds delay of every take behind the pivot, on top of what was taken out before, seconds
 * @param skew rate difference δ_k of every take to the pivot, or zeros
 * @param standardUncertainty of the delays, seconds, from what the fit leaves
 * @param unexplained share of the signal power that is left, mean of the bands
 * @param unexplainedBefore the same without any delay
 */
public record DelaysByLoads(
        double[] seconds, double[] skew, double[] standardUncertainty, double unexplained, double unexplainedBefore) {
    private static final int CELLS_PER_OCTAVE = 48;
    /** From here on a delay of a tenth of a sample turns phases visibly. */
    private static final double TREBLE_HZ = 2000;
    /** Share of the unexplained power that is left when a delay is suspected. */
    private static final double SUSPICIOUS = 0.5;

    /** Share of the signal power from which what is left is plain to see: what a per cent leaves. */
    private static final double VISIBLE = 1e-4;

    /** Rise of χ² up to which another end of the search is as good as the best. */
    private static final double AS_GOOD = 12;

    /** Upper ends of the range, lowest first: below, a delay turns phases by little, so that the search cannot miss. */
    private static final double[] UP_TO_HZ = {2500, 6000};

    private static final double LEAST_UNCERTAINTY = 2e-9;

    /**
     * Fits the delays.
     *
     * @param obs takes aligned to within a few microseconds
     * @param takes what each drives
     * @param pivot take whose delay is zero
     * @param toHz highest frequency to use, hertz
     * @param passing when the sound passes a frequency, seconds, for takes that may each run at a rate of their own; null
     *     when all run alike
     * @return null with fewer than three different loads
     */
    public static @Nullable DelaysByLoads of(
            BinObservations obs, LoadedTakes takes, int pivot, double toHz, @Nullable DoubleUnaryOperator passing) {
        if (distinct(takes) < 3) {
            return null;
        }
        DelayMisfit.Problem problem = new DelayMisfit.Problem(obs.merged(CELLS_PER_OCTAVE), takes, pivot, passing);
        DelayMisfit misfit = new DelayMisfit(problem, toHz);
        NewtonByDifferences search = new NewtonByDifferences(misfit::cost);
        List<NewtonByDifferences.Minimum> ends = Stream.concat(
                        Stream.of(misfit.nowhere()), starts(problem, misfit, toHz).stream())
                .parallel()
                .map(search::from)
                .sorted(Comparator.comparingDouble(NewtonByDifferences.Minimum::value))
                .toList();
        return result(misfit, search, takes.size(), ends);
    }

    /**
     * Largest delay that a single step of the search would take out of the treble, seconds: a quick look whether takes
     * that seem to be aligned are; 0 with fewer than three different loads, or when the step would explain little. Infinite
     * when more is left than one step can tell the cause of.
     */
    public static double suspicion(BinObservations obs, LoadedTakes takes, int pivot, double toHz) {
        if (toHz <= TREBLE_HZ || distinct(takes) < 3) {
            return 0;
        }
        DelayMisfit misfit = new DelayMisfit(
                new DelayMisfit.Problem(obs.merged(CELLS_PER_OCTAVE), takes, pivot, null), TREBLE_HZ, toHz);
        double here = misfit.left(misfit.nowhere()).unexplained();
        if (here > VISIBLE * misfit.bands()) {
            return Double.POSITIVE_INFINITY;
        }
        double[] step = new NewtonByDifferences(misfit::cost).firstStep(misfit.nowhere());
        if (step == null || !(misfit.left(step).unexplained() < SUSPICIOUS * here)) {
            return 0;
        }
        return Arrays.stream(step).map(Math::abs).max().orElse(0) * DelayMisfit.STEP_SECONDS;
    }

    private static long distinct(LoadedTakes takes) {
        return takes.loads().stream().mapToDouble(Load::conductance).distinct().count();
    }

    /** Where else to begin: at what low frequencies say, and to either side. */
    private static List<double[]> starts(DelayMisfit.Problem problem, DelayMisfit misfit, double toHz) {
        double[] staged = misfit.nowhere();
        for (double highest : UP_TO_HZ) {
            if (highest < toHz) {
                staged = new NewtonByDifferences(new DelayMisfit(problem, highest)::cost)
                        .from(staged)
                        .at();
            }
        }
        double far = DelayMisfit.BELIEVED_SECONDS / DelayMisfit.STEP_SECONDS;
        double[] later = misfit.nowhere();
        Arrays.fill(later, 0, misfit.free().length, far);
        double[] earlier = misfit.nowhere();
        Arrays.fill(earlier, 0, misfit.free().length, -far);
        return List.of(staged, later, earlier);
    }

    /** Delay of take {@code k} at a frequency, seconds. */
    public double at(int k, double hz, @Nullable DoubleUnaryOperator passing) {
        return seconds[k]
                + (passing == null
                        ? 0
                        : skew[k] * (passing.applyAsDouble(hz) - passing.applyAsDouble(DelayMisfit.MIDDLE_HZ)));
    }

    /**
     * Value and uncertainty: the noise by its degrees of freedom, what is left beyond it band by band. Of ends that are
     * as good as each other (a source and its mirror image with the other sign of X can be), the one nearest to where
     * the search began is taken if takes run alike, and the way to the others is uncertainty.
     *
     * @param ends where the searches ended, the best first
     */
    private static DelaysByLoads result(
            DelayMisfit misfit, NewtonByDifferences search, int takes, List<NewtonByDifferences.Minimum> ends) {
        int[] free = misfit.free();
        double[] best = ends.get(0).at();
        DelayMisfit.Left left = misfit.left(best);
        double systematic = Math.max(0, left.unexplained() - left.expected())
                / Math.max(1, 2.0 * misfit.bands() * (takes - 2) - best.length);
        double perResidual = left.expected() / left.freedom() + systematic;
        double limit = ends.get(0).value() + AS_GOOD * perResidual;
        List<double[]> good = ends.stream()
                .filter(end -> end.value() <= limit)
                .map(NewtonByDifferences.Minimum::at)
                .toList();
        double[] at = good.stream()
                .min(Comparator.comparingDouble(DelaysByLoads::distance))
                .orElseThrow();
        RealMatrix inverse = search.inverseCurvature(at);
        double[] seconds = new double[takes];
        double[] skew = new double[takes];
        double[] u = new double[takes];
        for (int j = 0; j < free.length; j++) {
            int take = free[j];
            seconds[take] = misfit.seconds(at, j);
            skew[take] = misfit.skew(at, j);
            double variance = inverse == null ? Double.NaN : 2 * perResidual * inverse.getEntry(j, j);
            u[take] = variance >= 0
                    ? Math.max(LEAST_UNCERTAINTY, Math.sqrt(variance) * DelayMisfit.STEP_SECONDS)
                    : DelayMisfit.BELIEVED_SECONDS;
            for (double[] end : good) {
                u[take] = Math.max(u[take], Math.abs(misfit.seconds(end, j) - misfit.seconds(at, j)));
            }
        }
        double before = misfit.left(misfit.nowhere()).unexplained();
        return new DelaysByLoads(
                seconds, skew, u, misfit.left(at).unexplained() / misfit.bands(), before / misfit.bands());
    }

    private static double distance(double[] at) {
        return Arrays.stream(at).map(v -> v * v).sum();
    }
}
