package ohmprint.app.record;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import ohmprint.dsp.SegmentDelays;
import ohmprint.dsp.SegmentDelays.Segment;
import org.apache.commons.math3.stat.descriptive.rank.Median;
import org.jspecify.annotations.Nullable;

/**
 * An interruption that the samples of a known sound prove: what follows it lies at another delay than what came before.
 *
 * <p>The sound is looked for as a whole, then in four long parts near the delay of the whole, or anywhere, then in many short
 * ones near the delay of the sharpest. A part is off when
 * its delay differs from that of the sharpest by more than a room, a loudspeaker or two clocks explain: {@value
 * #LEAST_JUMP_SECONDS} s and four correlation widths of both. An interruption puts off all that lies on one side of it, so
 * a run of parts counts that reaches to the beginning or to the end of the sound and has a long part or two short ones;
 * one part alone between others is an echo.
 *
 * @param startSeconds from where on the sound is displaced, seconds from its beginning
 * @param jumpSeconds by how much later it comes from there on; negative when samples are missing
 */
record Gap(double startSeconds, double jumpSeconds) {
    private static final int LONG_PARTS = 4;
    private static final int FEWEST_PARTS = 32;
    private static final int MOST_PARTS = 64;
    private static final double SHORT_SECONDS = 0.25;
    private static final double REACH_SECONDS = 0.5;
    /** A part that is not there shows 4 to 6 by chance; one that is there through a room, 20 and more. */
    private static final double FOUND = 10;

    private static final double LEAST_JUMP_SECONDS = 0.002;
    private static final double WIDTHS = 4;

    /**
     * What was looked for and found.
     *
     * @param delayFrames delay of the sharpest part, samples; null when the sound is not there at all
     * @param gap the interruption, or null when there is none
     * @param resolvedSeconds from here on in the sound, an interruption of the length that was asked for would have been
     *     found
     */
    record Search(@Nullable Long delayFrames, @Nullable Gap gap, double resolvedSeconds) {}

    private record Placed(Segment segment, double lengthSeconds, boolean isLong) {
        double middle() {
            return segment.startSeconds() + lengthSeconds / 2;
        }
    }

    /**
     * Looks for an interruption.
     *
     * @param sound what was played
     * @param take one channel of what was recorded
     * @param rate of both, hertz
     * @param askedSeconds length of an interruption that something else points to
     */
    static Search search(double[] sound, double[] take, double rate, double askedSeconds) {
        double seconds = sound.length / rate;
        List<Segment> whole = SegmentDelays.of(sound, take, rate, 1);
        List<Placed> found = whole.isEmpty()
                ? new ArrayList<>()
                : longParts(sound, take, rate, whole.get(0).delayFrames());
        if (found.isEmpty()) {
            return new Search(null, null, seconds);
        }
        Segment sharpest = sharpest(found);
        int parts = (int) Math.max(FEWEST_PARTS, Math.min(MOST_PARTS, Math.round(seconds / SHORT_SECONDS)));
        found.addAll(placed(
                SegmentDelays.near(sound, take, rate, parts, sharpest.delayFrames(), reach(rate)),
                seconds / parts,
                false));
        found.sort(Comparator.comparingDouble(Placed::middle));
        double resolved = found.stream()
                .filter(p -> allowed(p.segment(), sharpest) < askedSeconds)
                .mapToDouble(Placed::middle)
                .min()
                .orElse(seconds);
        return new Search(sharpest.delayFrames(), gap(found, sharpest, rate), resolved);
    }

    /** A sound that repeats itself fits in several places: those near the delay of the whole count before others. */
    private static List<Placed> longParts(double[] sound, double[] take, double rate, long delayFrames) {
        double length = sound.length / rate / LONG_PARTS;
        List<Segment> near = SegmentDelays.near(sound, take, rate, LONG_PARTS, delayFrames, reach(rate));
        List<Placed> found = placed(near, length, true);
        if (found.size() < near.size()) {
            for (Placed other : placed(SegmentDelays.of(sound, take, rate, LONG_PARTS), length, true)) {
                if (found.stream().noneMatch(p -> p.middle() == other.middle())) {
                    found.add(other);
                }
            }
        }
        return found;
    }

    private static int reach(double rate) {
        return (int) Math.round(REACH_SECONDS * rate);
    }

    private static List<Placed> placed(List<Segment> segments, double lengthSeconds, boolean isLong) {
        List<Placed> out = new ArrayList<>();
        for (Segment segment : segments) {
            if (segment.prominence() > FOUND) {
                out.add(new Placed(segment, lengthSeconds, isLong));
            }
        }
        return out;
    }

    private static Segment sharpest(List<Placed> found) {
        return Collections.min(
                        found, Comparator.comparingDouble(p -> p.segment().widthSeconds()))
                .segment();
    }

    private static double allowed(Segment segment, Segment sharpest) {
        return LEAST_JUMP_SECONDS + WIDTHS * (segment.widthSeconds() + sharpest.widthSeconds());
    }

    private static @Nullable Gap gap(List<Placed> found, Segment sharpest, double rate) {
        double jump = found.stream()
                .map(Placed::segment)
                .filter(s -> off(s, sharpest, rate))
                .mapToDouble(s -> Math.abs(s.delayFrames() - sharpest.delayFrames()) / rate)
                .min()
                .orElse(0);
        if (jump == 0) {
            return null;
        }
        List<Placed> telling = found.stream()
                .filter(p -> off(p.segment(), sharpest, rate)
                        || p.segment().equals(sharpest)
                        || allowed(p.segment(), sharpest) < jump / 2)
                .toList();
        int before = 0;
        while (before < telling.size() && off(telling.get(before).segment(), sharpest, rate)) {
            before++;
        }
        int after = telling.size();
        while (after > 0 && off(telling.get(after - 1).segment(), sharpest, rate)) {
            after--;
        }
        List<Placed> first = telling.subList(0, before);
        if (counts(first)) {
            return at(telling, before, sharpest.delayFrames() - delay(first.subList(0, Math.max(1, before - 1))), rate);
        }
        List<Placed> last = telling.subList(after, telling.size());
        return counts(last)
                ? at(
                        telling,
                        after,
                        delay(last.subList(Math.min(1, last.size() - 1), last.size())) - sharpest.delayFrames(),
                        rate)
                : null;
    }

    /** The usual delay of some parts, samples; the one beside the interruption may lie half on either side and is left out. */
    private static double delay(List<Placed> parts) {
        return new Median()
                .evaluate(parts.stream()
                        .mapToDouble(p -> p.segment().delayFrames())
                        .toArray());
    }

    /** An interruption between two parts. */
    private static Gap at(List<Placed> telling, int second, double frames, double rate) {
        double middle = (telling.get(second - 1).middle() + telling.get(second).middle()) / 2;
        return new Gap(middle, frames / rate);
    }

    private static boolean off(Segment segment, Segment sharpest, double rate) {
        return Math.abs(segment.delayFrames() - sharpest.delayFrames()) / rate > allowed(segment, sharpest);
    }

    private static boolean counts(List<Placed> run) {
        return run.size() > 1 || run.stream().anyMatch(Placed::isLong);
    }
}
