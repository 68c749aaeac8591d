package ohmprint.estimation;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.dsp.ClockSkew;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.estimation.StimulusLocator.PeriodAverage;
import org.jspecify.annotations.Nullable;

/**
 * Takes of a stimulus that ask for more than a plain division: the stimulus repeats, was played in a loop, or was played
 * on another clock.
 *
 * @param whole what to observe, on the player's clock; periods where the sound repeats
 * @param stimulus observer of the sound that is in them, or of one period
 * @param starts frame at which the sound begins in each of the kept takes
 * @param kept indices of the takes that hold the sound, ascending
 * @param alignment position of the sound in every take
 * @param periods periods averaged in every kept take; 0 where the sound is not summed
 * @param clocks difference of the clocks for every take, or null when they agree
 */
public record Playback(
        TakeSpectra whole,
        StimulusObserver stimulus,
        long[] starts,
        int[] kept,
        Alignment alignment,
        int[] periods,
        ClockSkew @Nullable [] clocks) {
    private static final double COVERAGE = 5;
    /** Drift over a take that is worth correcting, samples. */
    private static final double LEAST_DRIFT_SAMPLES = 0.02;

    private static final int ROUNDS = 2;
    /** Longer than the stimulus by this a take may have been played in a loop, seconds. */
    private static final double LONGER_SECONDS = 1;

    /**
     * What is known of the session.
     *
     * @param takes the takes, of moderate length
     * @param noKnownNoise for each take whether its noise is not known
     * @param pivot the take with the most signal
     * @param sampleRate hertz
     * @param fromHz lowest frequency of interest
     * @param toHz highest frequency of interest
     */
    public record Bench(
            List<TakeRecording> takes,
            boolean[] noKnownNoise,
            int pivot,
            double sampleRate,
            double fromHz,
            double toHz) {}

    /**
     * Looks whether the takes ask for more than a plain division.
     *
     * @param file the stimulus
     * @param noise whether it is noise rather than a sweep
     * @return null when they do not, or when they hold something else
     * @throws IOException if a take cannot be read
     */
    public static @Nullable Playback of(Bench bench, StimulusPattern file, boolean noise) throws IOException {
        boolean mayLoop = bench.takes.stream().anyMatch(t -> mayLoop(t, file, bench.sampleRate));
        if (file.copies() == 1 && !mayLoop && !noise) {
            return null;
        }
        StimulusLocator pivot = played(bench, file, noise, bench.pivot);
        if (!pivot.isFound()) {
            return null;
        }
        boolean skewed = isSignificant(pivot.skew(), pivot.span(), bench.sampleRate);
        if (file.copies() == 1 && !mayLoop && !skewed) {
            return null;
        }
        StimulusLocator[] played = Parallel.map(
                IntStream.range(0, bench.takes.size()).boxed().toList(),
                k -> k == bench.pivot ? pivot : played(bench, file, noise, k),
                StimulusLocator[]::new);
        boolean loop = Arrays.stream(played).anyMatch(t -> t.isFound() && t.looped());
        if (file.copies() == 1 && !loop && !skewed) {
            return null;
        }
        ClockSkew[] clocks = skewed ? onOneClock(played) : null;
        return assembled(bench, file, played, clocks, loop);
    }

    private static boolean mayLoop(TakeRecording take, StimulusPattern file, double rate) {
        long sounds = take.soundEnd() - take.soundStart();
        return take.soundStart() == 0 || sounds > file.end() - file.first() + (0.5 + LONGER_SECONDS) * rate;
    }

    private static StimulusLocator played(Bench bench, StimulusPattern file, boolean noise, int k) throws IOException {
        TakeRecording take = bench.takes.get(k);
        try (SampleSource source = take.opener().open()) {
            return StimulusLocator.of(
                    file, noise, Samples.channel(source, take.channel(), Integer.MAX_VALUE), bench.sampleRate);
        }
    }

    /** True when clocks are apart beyond doubt and by enough to matter. */
    private static boolean isSignificant(ClockSkew skew, double span, double rate) {
        return Math.abs(skew.ppm()) > COVERAGE * skew.standardUncertaintyPpm()
                && Math.abs(skew.ppm()) * 1e-6 * span * rate > LEAST_DRIFT_SAMPLES;
    }

    /** Resamples all takes; those that do not tell their skew are given the mean of the others. */
    private static ClockSkew[] onOneClock(StimulusLocator[] played) throws IOException {
        ClockSkew[] skew = new ClockSkew[played.length];
        Parallel.map(
                IntStream.range(0, played.length).boxed().toList(),
                k -> {
                    skew[k] = new ClockSkew(0, Double.POSITIVE_INFINITY);
                    for (int round = 0; round < ROUNDS && played[k].isFound(); round++) {
                        ClockSkew more = played[k].skew();
                        if (!(more.standardUncertaintyPpm() < ClockSkew.SEARCH_PPM)) {
                            break;
                        }
                        played[k] = played[k].onPlayersClock(more.ppm());
                        skew[k] = new ClockSkew(skew[k].ppm() + more.ppm(), more.standardUncertaintyPpm());
                    }
                    return k;
                },
                Integer[]::new);
        double mean = Arrays.stream(skew)
                .filter(s -> Double.isFinite(s.standardUncertaintyPpm()))
                .mapToDouble(ClockSkew::ppm)
                .average()
                .orElse(0);
        for (int k = 0; k < played.length; k++) {
            if (played[k].isFound() && !Double.isFinite(skew[k].standardUncertaintyPpm())) {
                played[k] = played[k].onPlayersClock(mean);
                skew[k] = new ClockSkew(mean, Double.POSITIVE_INFINITY);
            }
        }
        return skew;
    }

    private static @Nullable Playback assembled(
            Bench bench, StimulusPattern file, StimulusLocator[] played, ClockSkew @Nullable [] clocks, boolean loop)
            throws IOException {
        boolean summed = loop || file.copies() > 1;
        PeriodAverage[] folded = new PeriodAverage[played.length];
        if (summed) {
            for (int k = 0; k < played.length; k++) {
                TakeRecording take = bench.takes.get(k);
                folded[k] = played[k].isFound() ? played[k].folded(take.soundStart(), take.soundEnd(), loop) : null;
            }
        }
        int[] kept = IntStream.range(0, played.length)
                .filter(k -> summed ? folded[k] != null : played[k].isFound())
                .toArray();
        if (kept.length < 2 || Arrays.stream(kept).noneMatch(k -> k == bench.pivot)) {
            return null;
        }
        double[][] samples = new double[kept.length][];
        TakeRecording[] takes = new TakeRecording[kept.length];
        int[] periods = new int[kept.length];
        for (int j = 0; j < kept.length; j++) {
            PeriodAverage one = folded[kept[j]];
            takes[j] = bench.takes.get(kept[j]);
            samples[j] = one == null ? played[kept[j]].samples() : one.period();
            if (one != null) {
                periods[j] = one.periods();
                var seen = bench.noKnownNoise[kept[j]] ? one.noise(bench.sampleRate) : null;
                takes[j] = takes[j].withNoise(seen == null ? takes[j].noise() : seen, one.periods());
            }
        }
        double[] unit = summed ? file.unit() : file.samples();
        TakeSpectra whole = summed
                ? TakeSpectra.ofPeriods(List.of(takes), bench.sampleRate, samples)
                : TakeSpectra.ofSamples(List.of(takes), bench.sampleRate, unit.length, samples);
        long[] starts = Arrays.stream(kept)
                .mapToLong(k -> summed ? 0 : played[k].start())
                .toArray();
        long[] lags = new long[played.length];
        double[] prominence = new double[played.length];
        for (int k = 0; k < played.length; k++) {
            lags[k] = (long) played[k].start() - played[bench.pivot].start();
            prominence[k] = played[k].prominence();
        }
        return new Playback(
                whole,
                new StimulusObserver(unit, bench.sampleRate, bench.fromHz, bench.toHz),
                starts,
                kept,
                new Alignment(bench.pivot, lags, prominence),
                periods,
                clocks);
    }

    /** True when periods were summed. */
    public boolean isSummed() {
        return Arrays.stream(periods).anyMatch(p -> p > 0);
    }

    /** What the kept takes hold. */
    public BinObservations observe() {
        return stimulus.observe(whole, starts).bins();
    }
}
