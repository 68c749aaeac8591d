package ohmprint.estimation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import ohmprint.dsp.ClockSkew;
import ohmprint.dsp.PhaseTransform.SoundPosition;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.Resampler;
import org.jspecify.annotations.Nullable;

/**
 * One take of a known stimulus: where a pass of the file begins in it, whether the file was played in a loop, and how far
 * the recorder's clock is from the player's. All by correlation with the file; the take may begin and end anywhere.
 *
 * @param file the stimulus
 * @param noise whether all frequencies sound all the time, so that a part of it is enough to find it
 * @param sampleRate hertz
 * @param samples the take
 * @param start frame at which a pass of the file begins; negative when it began before the take
 * @param prominence of the part of the file that was found
 * @param looped whether the file is heard again before or after that pass
 */
record StimulusLocator(
        StimulusPattern file,
        boolean noise,
        double sampleRate,
        double[] samples,
        int start,
        double prominence,
        boolean looped) {
    /** Prominence from which a part of the stimulus counts as found. */
    private static final double FOUND = 12;
    /** Height of a further copy relative to the best one. */
    private static final double SHARE = 0.25;

    private static final int EXCERPT = 1 << 16;
    private static final int LEAST_PART = 1 << 14;
    private static final int PIECE = 1 << 15;
    private static final int MOST_PIECES = 48;
    private static final double DECAY_SECONDS = 0.25;
    private static final double DRIFT = ClockSkew.SEARCH_PPM * 1e-6;
    private static final int NEAR = 4;

    /**
     * Finds the stimulus.
     *
     * @param file the stimulus
     * @param noise whether all frequencies sound all the time, so that a part of it is enough to find it
     * @param samples the take
     */
    static StimulusLocator of(StimulusPattern file, boolean noise, double[] samples, double sampleRate) {
        int length = noise ? Math.min(EXCERPT, file.sounding()) : file.sounding();
        int offset = (file.sounding() - length) / 2;
        double[] excerpt =
                Arrays.copyOfRange(file.samples(), file.copyAt(0) + offset, file.copyAt(0) + offset + length);
        SoundPosition position = SoundPosition.of(excerpt, samples, sampleRate);
        int best = position.best();
        int start = 0;
        double score = Double.NEGATIVE_INFINITY;
        for (int c = 0; c < file.copies(); c++) {
            int candidate = best - offset - file.copyAt(c);
            double here = score(file, position, candidate, offset, length, samples.length);
            if (here > score) {
                score = here;
                start = candidate;
            }
        }
        StimulusLocator found =
                new StimulusLocator(file, noise, sampleRate, samples, start, position.prominence(best), false);
        boolean again = found.heardAgain(position, best, length);
        return again
                ? new StimulusLocator(file, noise, sampleRate, samples, start, position.prominence(best), true)
                : found;
    }

    /**
     * How well a pass that begins at {@code candidate} fits: the prominences where its copies should be, also of those that
     * the take holds a part of, and a deduction for each that should be there and is not.
     */
    private static double score(
            StimulusPattern file, SoundPosition position, int candidate, int offset, int length, int frames) {
        double sum = 0;
        for (int c = 0; c < file.copies(); c++) {
            int at = candidate + file.copyAt(c) + offset;
            int seen = Math.min(frames, at + length) - Math.max(0, at);
            if (seen > 0) {
                double here = near(position, at, file.copies() * file.period());
                sum += here > FOUND ? here : -FOUND * seen / length;
            }
        }
        return sum;
    }

    private static double near(SoundPosition position, int at, int away) {
        int reach = NEAR + (int) (DRIFT * away);
        return position.prominence(position.best(at - reach, at + reach + 1));
    }

    /** True when the file is heard before or after the pass that was found. */
    private boolean heardAgain(SoundPosition position, int best, int length) {
        int period = file.frames();
        for (int pass = -1; pass <= 1; pass += 2) {
            int at = best + pass * period;
            boolean whole = at >= 0 && at + length <= samples.length;
            if (whole && near(position, at, period) > Math.max(FOUND, SHARE * position.prominence(best))) {
                return true;
            }
        }
        return holds(Math.max(0, start - EXCERPT), start) || holds(start + period, start + period + EXCERPT);
    }

    /** True when the frames {@code [from, to)} of the take hold what a loop would put there. */
    private boolean holds(int from, int to) {
        int first = Math.max(0, from);
        int end = Math.min(samples.length, to);
        if (end - first < LEAST_PART) {
            return false;
        }
        double[] expected = new double[end - first];
        double energy = 0;
        for (int i = 0; i < expected.length; i++) {
            expected[i] = file.samples()[Math.floorMod(first + i - start, file.frames())];
            energy += expected[i] * expected[i];
        }
        if (!(energy > 0)) {
            return false;
        }
        SoundPosition there = SoundPosition.of(expected, Arrays.copyOfRange(samples, first, end), sampleRate);
        int best = there.best();
        return Math.abs(best) <= NEAR + DRIFT * file.frames() && there.prominence(best) > FOUND;
    }

    /** True when the take holds the stimulus. */
    boolean isFound() {
        return prominence > FOUND;
    }

    /** Difference of the clocks; of uncertainty infinity when the take does not tell. */
    ClockSkew skew() {
        List<ClockSkew.Piece> pieces = pieces();
        return ClockSkew.of(file.samples(), samples, pieces, (int) (DECAY_SECONDS * sampleRate), sampleRate);
    }

    /** Seconds from the first to the last piece that tells the time. */
    double span() {
        List<ClockSkew.Piece> pieces = pieces();
        return pieces.isEmpty()
                ? 0
                : (pieces.get(pieces.size() - 1).takeFrame() - pieces.get(0).takeFrame()) / sampleRate;
    }

    /** Parts of noise, or whole copies of a sweep, that lie within the take, in their order. */
    private List<ClockSkew.Piece> pieces() {
        List<ClockSkew.Piece> all = new ArrayList<>();
        int length = noise ? Math.min(PIECE, file.sounding()) : file.sounding();
        int firstPass = looped ? -Math.floorDiv(start, file.frames()) - 1 : 0;
        int lastPass = looped ? Math.floorDiv(samples.length - start, file.frames()) : 0;
        for (int pass = firstPass; pass <= lastPass; pass++) {
            for (int c = 0; c < file.copies(); c++) {
                for (int at = 0; at + length <= file.sounding(); at += length) {
                    int sound = file.copyAt(c) + at;
                    int take = start + pass * file.frames() + sound;
                    if (take >= 0 && take + length <= samples.length) {
                        all.add(new ClockSkew.Piece(sound, take, length));
                    }
                }
            }
        }
        int stride = 1 + all.size() / MOST_PIECES;
        List<ClockSkew.Piece> some = new ArrayList<>();
        for (int i = 0; i < all.size(); i += stride) {
            some.add(all.get(i));
        }
        return some;
    }

    /** The take as the player's clock would have recorded it. */
    StimulusLocator onPlayersClock(double ppm) {
        return of(file, noise, Resampler.of(samples, 1 + 1e-6 * ppm), sampleRate);
    }

    /**
     * Sums whole periods: what a sound without beginning and end would have left in one.
     *
     * @param soundStart first frame that may sound, 0 when the take began within the sound
     * @param soundEnd frame after the last that sounds, the length of the take when it ended within the sound
     * @param asLoop whether to sum periods of the file, because some take needs it
     * @return null when the take holds less than one period
     */
    @Nullable
    PeriodAverage folded(long soundStart, long soundEnd, boolean asLoop) {
        if (!asLoop) {
            return PeriodAverage.ofCopies(file, samples, start, sampleRate);
        }
        PeriodAverage pass = PeriodAverage.ofLoop(file, samples, start, soundStart, soundEnd, looped, sampleRate);
        return pass == null || file.copies() == 1 ? pass : pass.foldedAgain(file);
    }

    /**
     * A take of a repeated sound, summed over whole periods and divided by their number.
     *
     * <p>Summing the whole response of m copies modulo their distance P gives exactly the response to a sound that was always
     * repeated, {@code m·(h ⊛ x)}, however long the room rings; so does any stretch of m·P frames of a sound that has been
     * repeating for longer than the room rings. Division by the spectrum of one period is then free of errors at the ends.
     *
     * @param period one period, beginning where the stimulus's period does
     * @param periods number of periods m that were averaged; noise is less by it
     * @param difference difference of the first two periods over √2, or empty: noise alone
     */
    record PeriodAverage(double[] period, int periods, double[] difference) {
        /** Time after which a room has gone silent, seconds. */
        private static final double SETTLING_SECONDS = 1.0;

        private static final double MARGIN_SECONDS = 0.05;
        /** Width of the cells in which noise is averaged. */
        private static final int CELLS_PER_OCTAVE = 3;
        /** How long after the sound a take is told to end, and how far the ends are off, seconds. */
        private static final double END_SECONDS = 0.4;

        /** The copies of one pass of the file; those that are cut off are left out when the silence between allows it. */
        static @Nullable PeriodAverage ofCopies(StimulusPattern file, double[] take, int start, double rate) {
            int margin = (int) (MARGIN_SECONDS * rate);
            int begin = start + file.first();
            int end = start + file.end();
            if (begin >= 0 && end <= take.length) {
                return summed(
                        take,
                        begin,
                        file.period(),
                        Math.max(0, begin - margin),
                        Math.min(take.length, end + (int) (SETTLING_SECONDS * rate)),
                        file.copies());
            }
            int settling = settling(file.period() - file.sounding(), rate);
            int from = begin >= 0 ? begin + settling : 0;
            int to = Math.min(take.length, end);
            return steady(take, begin, file.period(), from, to);
        }

        /** Passes of a file in a loop. */
        static @Nullable PeriodAverage ofLoop(
                StimulusPattern file,
                double[] take,
                int start,
                long soundStart,
                long soundEnd,
                boolean looped,
                double rate) {
            int period = file.frames();
            int slack = (int) (MARGIN_SECONDS * rate);
            boolean begins = soundStart > 0;
            boolean ends = soundEnd < take.length;
            int silence = period - (file.end() - file.first());
            int first = begins ? (int) -Math.floorDiv(start + file.first() + slack - soundStart, (long) period) : 0;
            long heard = soundEnd - (long) (END_SECONDS * rate) + slack;
            int last = (int) Math.floorDiv(heard - file.end() - start, (long) period);
            if (!looped) {
                boolean whole = start + file.first() >= 0 && start + file.end() <= take.length;
                return whole
                        ? summed(
                                take,
                                start,
                                period,
                                Math.max(0, start + file.first() - slack),
                                Math.min(take.length, start + file.end() + (int) (SETTLING_SECONDS * rate)),
                                1)
                        : null;
            }
            int from = begins ? start + first * period + settling(silence, rate) : 0;
            int to = take.length;
            if (ends) {
                to = silence >= SETTLING_SECONDS * rate
                        ? start + (last + 1) * period
                        : start + last * period + file.end();
            }
            return steady(take, start, period, from, to);
        }

        private static int settling(int silence, double rate) {
            return Math.max(0, (int) (SETTLING_SECONDS * rate) - silence);
        }

        /** As many whole periods as fit, the last ones. */
        private static @Nullable PeriodAverage steady(double[] take, int origin, int period, int from, int to) {
            int periods = (to - from) / period;
            return periods < 1 ? null : summed(take, origin, period, to - periods * period, to, periods);
        }

        private static PeriodAverage summed(double[] take, int origin, int period, int from, int to, int periods) {
            double[] sum = new double[period];
            for (int i = from; i < Math.min(take.length, to); i++) {
                sum[Math.floorMod(i - origin, period)] += take[i] / periods;
            }
            double[] difference = new double[0];
            if (periods > 1 && from + 2 * period <= take.length) {
                difference = new double[period];
                for (int i = 0; i < period; i++) {
                    difference[i] = (take[from + i] - take[from + period + i]) / Math.sqrt(2);
                }
            }
            return new PeriodAverage(sum, periods, difference);
        }

        /** The copies within a pass summed too: the silence around them is taken to outlast the room. */
        PeriodAverage foldedAgain(StimulusPattern file) {
            PeriodAverage again = summed(period, file.first(), file.period(), 0, period.length, file.copies());
            return new PeriodAverage(again.period, periods * file.copies(), difference);
        }

        /** Noise density, full scale²/Hz one-sided, as the difference of two periods shows it; null without. */
        @Nullable
        DoubleUnaryOperator noise(double rate) {
            if (difference.length == 0) {
                return null;
            }
            int n = difference.length;
            double[] x = difference.clone();
            RealFourier.ofPeriod(n).forward(x);
            int cells = 1 + (int) (CELLS_PER_OCTAVE * Math.log(n / 2.0) / Math.log(2));
            double[] power = new double[cells];
            int[] count = new int[cells];
            for (int i = 1; i < (n - 1) / 2; i++) {
                int cell = (int) (CELLS_PER_OCTAVE * Math.log(i) / Math.log(2));
                power[cell] += 2 * (x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1]) / (n * rate);
                count[cell]++;
            }
            for (int c = 0; c < cells; c++) {
                power[c] = count[c] > 0 ? power[c] / count[c] : c > 0 ? power[c - 1] : 0;
            }
            double least = Arrays.stream(power).filter(p -> p > 0).min().orElse(Double.MIN_NORMAL);
            return hz -> {
                double bin = Math.max(1, hz * n / rate);
                int cell = Math.min(cells - 1, (int) (CELLS_PER_OCTAVE * Math.log(bin) / Math.log(2)));
                return Math.max(least, power[cell]);
            };
        }
    }
}
