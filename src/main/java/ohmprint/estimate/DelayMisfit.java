package ohmprint.estimate;

import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import ohmprint.curve.FrequencyBands;
import org.jspecify.annotations.Nullable;

/**
 * What takes leave unexplained when each but the pivot is taken back by a delay of its own: the residual of one Z in each
 * sixth of an octave over the signal power, summed over the bands; {@link #cost} adds what is believed of delays beforehand.
 *
 * <p>A place is an array of steps of {@value #STEP_SECONDS} s: the delay of every free take and then, where takes may run
 * at rates of their own, how much more its last bin is late than its first.
 */
final class DelayMisfit {
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
    DelayMisfit(Problem problem, double toHz) {
        this(problem, FROM_HZ, toHz);
    }

    /** The misfit in a range of frequencies. */
    DelayMisfit(Problem problem, double fromHz, double toHz) {
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

    /** Number of bands. */
    int bands() {
        return bands.size();
    }

    /** Takes with a delay to be found. */
    int[] free() {
        return free.clone();
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
        LoadedTakes takes = problem.takes();
        BandSolver solver = new BandSolver(turned, takes, List.of());
        double sum = 0;
        double expected = 0;
        double freedom = 0;
        for (int b = 0; b < bands.size(); b++) {
            int from = turned.firstAtOrAbove(bands.lowerEdge(b));
            int to = turned.firstAtOrAbove(bands.upperEdge(b));
            @Nullable BandFit fit = to - from < 3 ? null : solver.fit(from, to, bands.midband(b), 1);
            if (fit != null && Double.isFinite(fit.residual()) && fit.signalToNoise() > 0) {
                double signal = turned.averages() * fit.bins() * fit.signalToNoise() * takes.size();
                sum += fit.residual() / signal;
                expected += fit.degreesOfFreedom() / signal;
                freedom += 2 * fit.degreesOfFreedom();
            }
        }
        return new Left(sum, expected, freedom);
    }
}
