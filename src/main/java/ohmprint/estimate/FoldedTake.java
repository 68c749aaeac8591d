package ohmprint.estimate;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import ohmprint.signal.RealFourier;
import org.jspecify.annotations.Nullable;

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
record FoldedTake(double[] period, int periods, double[] difference) {
    /** Time after which a room has gone silent, seconds. */
    private static final double SETTLING_SECONDS = 1.0;

    private static final double MARGIN_SECONDS = 0.05;
    /** Width of the cells in which noise is averaged. */
    private static final int CELLS_PER_OCTAVE = 3;
    /** How long after the sound a take is told to end, and how far the ends are off, seconds. */
    private static final double END_SECONDS = 0.4;

    /** The copies of one pass of the file; those that are cut off are left out when the silence between allows it. */
    static @Nullable FoldedTake ofCopies(StimulusPattern file, double[] take, int start, double rate) {
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
    static @Nullable FoldedTake ofLoop(
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
            to = silence >= SETTLING_SECONDS * rate ? start + (last + 1) * period : start + last * period + file.end();
        }
        return steady(take, start, period, from, to);
    }

    private static int settling(int silence, double rate) {
        return Math.max(0, (int) (SETTLING_SECONDS * rate) - silence);
    }

    /** As many whole periods as fit, the last ones. */
    private static @Nullable FoldedTake steady(double[] take, int origin, int period, int from, int to) {
        int periods = (to - from) / period;
        return periods < 1 ? null : summed(take, origin, period, to - periods * period, to, periods);
    }

    private static FoldedTake summed(double[] take, int origin, int period, int from, int to, int periods) {
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
        return new FoldedTake(sum, periods, difference);
    }

    /** The copies within a pass summed too: the silence around them is taken to outlast the room. */
    FoldedTake foldedAgain(StimulusPattern file) {
        FoldedTake again = summed(period, file.first(), file.period(), 0, period.length, file.copies());
        return new FoldedTake(again.period, periods * file.copies(), difference);
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
