package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import ohmprint.dsp.ClockSkew;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.DelaysByLoads;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.SourceDrift;
import ohmprint.estimation.TimingCheck;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import org.jspecify.annotations.Nullable;

/**
 * Delays between takes, beyond whole samples.
 *
 * <p>On one clock they are whole samples. If they are not, or the clocks are known to be apart, three or more loads tell
 * the delays ({@link DelaysByLoads}); with two loads they rest on the source being minimum phase ({@link TimingCheck}),
 * which leaves some microseconds.
 */
final class TakeDelays {
    /** Lowest frequency at which delays are judged, hertz. */
    static final double FROM_HZ = 60;
    /** Highest frequency at which delays are judged, hertz. */
    static final double TO_HZ = 15_000;

    /** Uncertainty of a delay, in samples, from which the takes count as not aligned at all. */
    static final double UNTIMED_SAMPLES = 0.5;

    /** Share of the unexplained power that delays have to take away to be believed. */
    private static final double CONVINCING = 0.2;
    /** Share of the signal power that may be left when delays are believed: takes that fit otherwise. */
    private static final double FITTING = 1e-3;
    /** What the fit by the loads may be off because loads and gains are, seconds. */
    private static final double FLOOR_SECONDS = 3e-8;
    /** Distance from a whole sample up to which takes are believed to be on one clock, samples. */
    private static final double WHOLE = 0.02;

    /** Distance from a whole sample from which takes are looked at again, samples. */
    private static final double SUSPECTED = 0.03;

    /** Width of the cells that bins are summed into: 24 within a twelfth of an octave. */
    private static final int CELLS_PER_OCTAVE = 288;
    /** What the assumption of a minimum phase was seen to be off at most, over many coils and loads, is 4 µs. */
    private static final double TWO_CLOCKS_SECONDS = 2.5e-6;

    private static final double COVERAGE = 4;
    /** Rate difference of takes that is worth taking out, as a time over the sweep, seconds. */
    private static final double LEAST_STRETCH = 1e-7;

    private final BinObservations bins;
    private final TimingCheck timing;
    private final double[] seconds;
    private final double[] uncertainty;
    private final @Nullable DelaysByLoads byLoads;
    private final @Nullable DoubleUnaryOperator passing;
    private @Nullable BinObservations cells;

    private TakeDelays(
            BinObservations bins,
            TimingCheck timing,
            double[] seconds,
            double[] uncertainty,
            @Nullable DelaysByLoads byLoads,
            @Nullable DoubleUnaryOperator passing) {
        this.bins = bins;
        this.timing = timing;
        this.seconds = seconds;
        this.uncertainty = uncertainty;
        this.byLoads = byLoads;
        this.passing = passing;
    }

    /** Where delays are judged: sample rate, lowest and highest frequency, all in hertz. */
    private record Range(double sampleRate, double fromHz, double toHz) {}

    /**
     * Estimates the delays.
     *
     * @param takes takes aligned to whole samples
     * @param compared the same takes, of which the pivot has no delay
     * @param oneClock false when the clocks are known to be apart
     * @param sweep tells when the sweep passes a frequency, if takes may each run at a rate of their own; else null. It is
     *     asked only when the delays are in doubt
     */
    static TakeDelays of(
            TakeSet takes, ComparedTakes compared, boolean oneClock, @Nullable Supplier<DoubleUnaryOperator> sweep) {
        BinObservations bins = takes.bins();
        LoadedTakes loads = takes.loads();
        int pivot = compared.pivot();
        Range range = new Range(
                compared.sampleRate(), Math.max(compared.fromHz(), FROM_HZ), Math.min(compared.toHz(), TO_HZ));
        TimingCheck timing = TimingCheck.of(bins, pivot, range.sampleRate, range.fromHz, range.toHz, oneClock);
        double[] doubt = timing.uncertainty().clone();
        for (int k = 0; k < doubt.length; k++) {
            doubt[k] = timing.isFraction(k) ? Math.hypot(doubt[k], TWO_CLOCKS_SECONDS) : doubt[k];
        }
        TakeDelays plain = new TakeDelays(bins, timing, timing.seconds(), doubt, null, null);
        if (!timing.hasFractions() && !plain.isSuspicious(loads, pivot, range)) {
            return plain;
        }
        DoubleUnaryOperator passing = sweep == null ? null : sweep.get();
        double[] begin =
                Arrays.stream(timing.estimates()).mapToDouble(e -> e.seconds()).toArray();
        DelaysByLoads found = DelaysByLoads.of(bins.advanced(begin), loads, pivot, range.toHz, passing);
        boolean believed = found != null
                && found.unexplained() < FITTING
                && (found.unexplained() < CONVINCING * found.unexplainedBefore()
                        || (!oneClock && isSharper(found, doubt)));
        if (found == null || !believed) {
            return plain;
        }
        double[] seconds = new double[begin.length];
        double[] uncertainty = new double[begin.length];
        boolean whole = oneClock && stretch(found, passing, range) < LEAST_STRETCH;
        for (int k = 0; k < seconds.length; k++) {
            seconds[k] = begin[k] + found.seconds()[k];
            uncertainty[k] = k == pivot ? 0 : Math.hypot(found.standardUncertainty()[k], FLOOR_SECONDS);
            double samples = seconds[k] * range.sampleRate;
            double most = Math.max(WHOLE, COVERAGE * uncertainty[k] * range.sampleRate);
            whole = whole && Math.abs(samples - Math.rint(samples)) < most;
        }
        if (!whole) {
            return new TakeDelays(bins, timing, seconds, uncertainty, found, passing);
        }
        for (int k = 0; k < seconds.length; k++) {
            seconds[k] = Math.rint(seconds[k] * range.sampleRate) / range.sampleRate;
            uncertainty[k] = k == pivot ? 0 : TimingCheck.ONE_CLOCK_SECONDS;
        }
        return new TakeDelays(bins, timing, seconds, uncertainty, null, null);
    }

    /** Whether the loads tell the delays better than they are known. */
    private static boolean isSharper(DelaysByLoads found, double[] known) {
        return Arrays.stream(found.standardUncertainty()).max().orElse(0)
                < Arrays.stream(known).max().orElse(0);
    }

    /** Whether takes that seem to be whole samples apart are not, by their loads. */
    private boolean isSuspicious(LoadedTakes loads, int pivot, Range range) {
        return DelaysByLoads.suspicion(cells(), loads, pivot, range.toHz) * range.sampleRate > SUSPECTED;
    }

    private static double stretch(DelaysByLoads found, @Nullable DoubleUnaryOperator passing, Range range) {
        double largest = Arrays.stream(found.skew()).map(Math::abs).max().orElse(0);
        return passing == null
                ? 0
                : largest * Math.abs(passing.applyAsDouble(range.toHz) - passing.applyAsDouble(range.fromHz));
    }

    /** Delay of every take behind the pivot, seconds; of a take at a rate of its own that in the middle of its treble. */
    double[] seconds() {
        return seconds.clone();
    }

    /** Delay of take {@code k} at a bin of the observations. */
    double at(int k, int bin) {
        return byLoads == null || passing == null
                ? seconds[k]
                : seconds[k] - byLoads.seconds()[k] + byLoads.at(k, bins.hz(bin), passing);
    }

    /** The takes without their delays, bins summed into cells of {@value #CELLS_PER_OCTAVE} to the octave. */
    BinObservations cells() {
        if (cells == null) {
            cells = bins.merged(CELLS_PER_OCTAVE, this::at);
        }
        return cells;
    }

    /** The same with a gain taken out of every take, too. */
    BinObservations cells(SourceDrift drift) {
        return bins.advanced(this::at).dividedBy(drift.gainRe(), drift.gainIm()).merged(CELLS_PER_OCTAVE);
    }

    /** Largest standard uncertainty of a delay, seconds. */
    double largestUncertainty() {
        return Arrays.stream(uncertainty).max().orElse(0);
    }

    /**
     * What is to be said of delays that are uncertain, and of clocks.
     *
     * @param takes the takes
     * @param clocks rate of each take against the others where it was looked at, or null
     */
    List<Finding> findings(ComparedTakes takes, ClockSkew @Nullable [] clocks) {
        List<Finding> out = new ArrayList<>();
        for (int k = 0; k < takes.size(); k++) {
            finding(k, takes.file(k), takes.sampleRate()).ifPresent(out::add);
        }
        String told = byLoads != null ? "; the loads tell the delays between takes" : "";
        if (clocks != null) {
            double[] ppm = Arrays.stream(clocks).mapToDouble(ClockSkew::ppm).toArray();
            out.add(Wording.RESAMPLED.of(null, inTurn(ppm), told));
        } else if (byLoads != null) {
            double[] skew = byLoads.skew();
            double[] ppm =
                    Arrays.stream(skew).map(one -> 1e6 * one - 1e6 * skew[0]).toArray();
            out.add(Wording.TWO_CLOCKS.of(null, takes.file(0), inTurn(ppm), told));
        }
        return out;
    }

    private static String inTurn(double[] ppm) {
        return Arrays.stream(ppm)
                .mapToObj(one -> String.format(Locale.ROOT, "%+.2f", one))
                .collect(Collectors.joining(", "));
    }

    private Optional<Finding> finding(int k, String file, double sampleRate) {
        if (byLoads != null || !(uncertainty[k] > TimingCheck.ONE_CLOCK_SECONDS)) {
            return Optional.empty();
        }
        if (uncertainty[k] * sampleRate >= UNTIMED_SAMPLES) {
            return Optional.of(Wording.LITTLE_IN_COMMON.of(file));
        }
        double samples = timing.estimates()[k].seconds() * sampleRate;
        return Optional.of(
                Wording.FRACTION_OF_SAMPLE.of(file, samples - Math.rint(samples), 2 * uncertainty[k] * sampleRate));
    }
}
