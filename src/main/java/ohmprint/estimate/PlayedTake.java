package ohmprint.estimate;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.signal.ClockSkew;
import ohmprint.signal.PhaseTransform.SoundPosition;
import ohmprint.signal.RateChange;
import org.jspecify.annotations.Nullable;

/**
 * One take of a known stimulus: where a pass of the file begins in it, whether the file was played in a loop, and how far
 * the recorder's clock is from the player's. All by correlation with the file; the take may begin and end anywhere.
 */
final class PlayedTake {
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

    private final StimulusPattern file;
    private final boolean noise;
    private final double sampleRate;
    private final double[] samples;
    private final int start;
    private final double prominence;
    private final boolean looped;

    private PlayedTake(
            StimulusPattern file,
            boolean noise,
            double sampleRate,
            double[] samples,
            int start,
            double prominence,
            boolean looped) {
        this.file = file;
        this.noise = noise;
        this.sampleRate = sampleRate;
        this.samples = samples;
        this.start = start;
        this.prominence = prominence;
        this.looped = looped;
    }

    /**
     * Finds the stimulus.
     *
     * @param file the stimulus
     * @param noise whether all frequencies sound all the time, so that a part of it is enough to find it
     * @param samples the take
     */
    static PlayedTake of(StimulusPattern file, boolean noise, double[] samples, double sampleRate) {
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
        PlayedTake found = new PlayedTake(file, noise, sampleRate, samples, start, position.prominence(best), false);
        boolean again = found.heardAgain(position, best, length);
        return again ? new PlayedTake(file, noise, sampleRate, samples, start, position.prominence(best), true) : found;
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

    boolean isLooped() {
        return looped;
    }

    /** Frame at which a pass of the file begins; negative when it began before the take. */
    int start() {
        return start;
    }

    double prominence() {
        return prominence;
    }

    double[] samples() {
        return samples;
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
    PlayedTake onPlayersClock(double ppm) {
        return of(file, noise, RateChange.of(samples, 1 + 1e-6 * ppm), sampleRate);
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
    FoldedTake folded(long soundStart, long soundEnd, boolean asLoop) {
        if (!asLoop) {
            return FoldedTake.ofCopies(file, samples, start, sampleRate);
        }
        FoldedTake pass = FoldedTake.ofLoop(file, samples, start, soundStart, soundEnd, looped, sampleRate);
        return pass == null || file.copies() == 1 ? pass : pass.foldedAgain(file);
    }
}
