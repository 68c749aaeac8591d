package ohmprint.estimation;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.linear.RealMatrix;
import org.jspecify.annotations.Nullable;

/**
 * Delays between takes of three or more loads, told by the loads themselves.
 *
 * <p>With K different loads the K − 1 complex ratios of a bin depend on one Z; what they cannot share is delay. The delays
 * τ_k minimise the unexplained power over signal power, summed over sixths of an octave with a Z of its own in each, by
 * Newton's method on differences. A delay leaves the points of {@code 1/D_k} against y_k off their line by a phase that
 * grows with frequency, which neither loads nor gains do. When playing and recording were on two clocks, each take may
 * also run at a rate of its own: {@code τ_k + δ_k·(t(f) − t(f_0))}, where t(f) is when a sweep passes f and f_0 is {@value Misfit#MIDDLE_HZ} Hz.
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
        if (takes.distinctLoads() < 3) {
            return null;
        }
        Misfit.Problem problem = new Misfit.Problem(obs.merged(CELLS_PER_OCTAVE), takes, pivot, passing);
        Misfit misfit = new Misfit(problem, toHz);
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
        if (toHz <= TREBLE_HZ || takes.distinctLoads() < 3) {
            return 0;
        }
        Misfit misfit =
                new Misfit(new Misfit.Problem(obs.merged(CELLS_PER_OCTAVE), takes, pivot, null), TREBLE_HZ, toHz);
        double here = misfit.left(misfit.nowhere()).unexplained();
        if (here > VISIBLE * misfit.bands.size()) {
            return Double.POSITIVE_INFINITY;
        }
        double[] step = new NewtonByDifferences(misfit::cost).firstStep(misfit.nowhere());
        if (step == null || !(misfit.left(step).unexplained() < SUSPICIOUS * here)) {
            return 0;
        }
        return Arrays.stream(step).map(Math::abs).max().orElse(0) * Misfit.STEP_SECONDS;
    }

    /** Where else to begin: at what low frequencies say, and to either side. */
    private static List<double[]> starts(Misfit.Problem problem, Misfit misfit, double toHz) {
        double[] staged = misfit.nowhere();
        for (double highest : UP_TO_HZ) {
            if (highest < toHz) {
                staged = new NewtonByDifferences(new Misfit(problem, highest)::cost)
                        .from(staged)
                        .at();
            }
        }
        double far = Misfit.BELIEVED_SECONDS / Misfit.STEP_SECONDS;
        double[] later = misfit.nowhere();
        Arrays.fill(later, 0, misfit.free.length, far);
        double[] earlier = misfit.nowhere();
        Arrays.fill(earlier, 0, misfit.free.length, -far);
        return List.of(staged, later, earlier);
    }

    /** Delay of take {@code k} at a frequency, seconds. */
    public double at(int k, double hz, @Nullable DoubleUnaryOperator passing) {
        return seconds[k]
                + (passing == null
                        ? 0
                        : skew[k] * (passing.applyAsDouble(hz) - passing.applyAsDouble(Misfit.MIDDLE_HZ)));
    }

    /**
     * Value and uncertainty: the noise by its degrees of freedom, what is left beyond it band by band. Of ends that are
     * as good as each other (a source and its mirror image with the other sign of X can be), the one nearest to where
     * the search began is taken if takes run alike, and the way to the others is uncertainty.
     *
     * @param ends where the searches ended, the best first
     */
    private static DelaysByLoads result(
            Misfit misfit, NewtonByDifferences search, int takes, List<NewtonByDifferences.Minimum> ends) {
        int[] free = misfit.free;
        double[] best = ends.get(0).at();
        Misfit.Left left = misfit.left(best);
        double systematic = Math.max(0, left.unexplained() - left.expected())
                / Math.max(1, 2.0 * misfit.bands.size() * (takes - 2) - best.length);
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
                    ? Math.max(LEAST_UNCERTAINTY, Math.sqrt(variance) * Misfit.STEP_SECONDS)
                    : Misfit.BELIEVED_SECONDS;
            for (double[] end : good) {
                u[take] = Math.max(u[take], Math.abs(misfit.seconds(end, j) - misfit.seconds(at, j)));
            }
        }
        double before = misfit.left(misfit.nowhere()).unexplained();
        return new DelaysByLoads(
                seconds, skew, u, misfit.left(at).unexplained() / misfit.bands.size(), before / misfit.bands.size());
    }

    private static double distance(double[] at) {
        return Arrays.stream(at).map(v -> v * v).sum();
    }

    /**
     * What takes leave unexplained when each but the pivot is taken back by a delay of its own: the residual of one Z in each
     * sixth of an octave over the signal power, summed over the bands; {@link #cost} adds what is believed of delays beforehand.
     *
     * <p>A place is an array of steps of {@value #STEP_SECONDS} s: the delay of every free take and then, where takes may run
     * at rates of their own, how much more its last bin is late than its first.
     */
    private static final class Misfit {
        /** One step of a delay, seconds. */
        static final double STEP_SECONDS = 1e-7;
        /** Standard uncertainty of the delays that are begun with, seconds. */
        static final double BELIEVED_SECONDS = 5e-6;
        /** Where takes that run at rates of their own are later by their delay alone, hertz. */
        static final double MIDDLE_HZ = 8000;

        /** Usual difference that clocks make to takes over one sweep, seconds. */
        private static final double BELIEVED_STRETCH_SECONDS = 3e-5;

        private static final int BANDS_PER_OCTAVE = 6;
        private static final double FROM_HZ = 60;

        private final Problem problem;
        private final FrequencyBands bands;
        private final int[] free;
        private final double[] unit;
        private final double[] passes;

        /**
         * What is given.
         *
         * @param cells takes aligned to within a few microseconds
         * @param takes what each drives
         * @param pivot take whose delay is zero
         * @param passing when the sound passes a frequency, seconds; null when all takes run alike
         */
        record Problem(
                BinObservations cells,
                LoadedTakes takes,
                int pivot,
                @Nullable DoubleUnaryOperator passing) {}

        /**
         * What is left at a place, as shares of the signal power summed over the bands.
         *
         * @param unexplained the residual
         * @param expected what of it is noise
         * @param freedom degrees of freedom of the noise
         */
        record Left(double unexplained, double expected, double freedom) {}

        /** The misfit below a frequency. */
        Misfit(Problem problem, double toHz) {
            this(problem, FROM_HZ, toHz);
        }

        /** The misfit in a range of frequencies. */
        Misfit(Problem problem, double fromHz, double toHz) {
            this.problem = problem;
            this.bands = FrequencyBands.within(BANDS_PER_OCTAVE, fromHz, toHz);
            this.free = IntStream.range(0, problem.takes().size())
                    .filter(k -> k != problem.pivot())
                    .toArray();
            BinObservations cells = problem.cells();
            DoubleUnaryOperator passing = problem.passing();
            this.passes = new double[cells.size()];
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < passes.length; i++) {
                passes[i] = passing == null ? 0 : passing.applyAsDouble(cells.hz(i)) - passing.applyAsDouble(MIDDLE_HZ);
                low = Math.min(low, passes[i]);
                high = Math.max(high, passes[i]);
            }
            this.unit = new double[passing == null ? free.length : 2 * free.length];
            for (int j = 0; j < unit.length; j++) {
                unit[j] = j < free.length ? STEP_SECONDS : STEP_SECONDS / Math.max(0, high - low);
            }
        }

        /** The place where nothing is delayed. */
        double[] nowhere() {
            return new double[unit.length];
        }

        /** Delay of a free take at a place, seconds. */
        double seconds(double[] at, int j) {
            return at[j] * unit[j];
        }

        /** Rate difference of a free take at a place; 0 where all run alike. */
        double skew(double[] at, int j) {
            return unit.length > free.length ? at[free.length + j] * unit[free.length + j] : 0;
        }

        /** What is left, and what is believed of the delays beforehand in units of the noise. */
        double cost(double[] at) {
            Left left = left(at);
            double sum = left.unexplained();
            double noise = left.expected() / Math.max(1, left.freedom());
            for (int a = 0; a < at.length; a++) {
                double sigma = a < free.length ? BELIEVED_SECONDS : BELIEVED_STRETCH_SECONDS;
                sum += noise * Math.pow(at[a] * STEP_SECONDS / sigma, 2);
            }
            return sum;
        }

        /** What one Z per band leaves at a place. */
        Left left(double[] at) {
            BinObservations turned = problem.cells().advanced((take, i) -> {
                int j = Arrays.binarySearch(free, take);
                return j < 0 ? 0 : seconds(at, j) + skew(at, j) * passes[i];
            });
            double sum = 0;
            double expected = 0;
            double freedom = 0;
            for (BandSolver.Leftover left : BandSolver.leftover(turned, problem.takes(), bands)) {
                sum += left.fit().residual() / left.signal();
                expected += left.fit().degreesOfFreedom() / left.signal();
                freedom += 2 * left.fit().degreesOfFreedom();
            }
            return new Left(sum, expected, freedom);
        }
    }
}
