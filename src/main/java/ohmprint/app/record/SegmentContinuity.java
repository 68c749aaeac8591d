package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import ohmprint.audiodevice.RunReport;
import ohmprint.audiofile.AudioFiles;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.dsp.SegmentDelays;
import ohmprint.dsp.SegmentDelays.Segment;
import ohmprint.dsp.Windows;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import org.apache.commons.math3.stat.descriptive.rank.Median;
import org.jspecify.annotations.Nullable;

/**
 * Whether the take holds the sound that was played, in one piece. The samples decide: the sound is known, so what is missing
 * displaces the rest or leaves an edge or silence. When a run seemed interrupted by its times ({@link RunReport}), that is a
 * suspicion; it is told only where the samples can neither prove nor disprove it.
 */
final class SegmentContinuity {
    private static final int MOST_FRAMES = 1 << 24;
    /** Shortest gap that matters where only an empty output points to one: that of {@link RunReport#lostSeconds}. */
    private static final double SHORTEST_SUSPECTED_SECONDS = 0.03;
    /** Shorter standstills are found in every take, known sound or not. */
    private static final double STANDSTILL_SECONDS = 1;

    private static final double SOUNDING_SHARE = 1e-3;

    private SegmentContinuity() {}

    /** What the samples show, and what the times of the run point to. */
    static List<Finding> of(RecordedTake recorded) throws IOException {
        double[] take;
        try (SampleSource source = AudioFiles.open(recorded.session().path(recorded.take()))) {
            take = Samples.channel(source, recorded.take().channel() - 1, MOST_FRAMES);
        }
        String file = recorded.take().file();
        double[] sound = recorded.sound();
        double rate = recorded.seen().sampleRate();
        RunReport run = recorded.run();
        double suspected =
                run.lostSeconds() > 0 ? run.lostSeconds() : run.playbackRanEmpty() ? SHORTEST_SUSPECTED_SECONDS : 0;
        Gap.Search search = Gap.search(sound, take, rate, suspected);
        if (search.delayFrames() == null) {
            Finding absent = Wording.NOT_WHAT_WAS_PLAYED.of(file);
            return suspected > 0 ? List.of(absent, suspicion(file, run, "")) : List.of(absent);
        }
        Finding standstill = standstill(file, sound, take, rate, search.delayFrames());
        if (standstill != null) {
            return List.of(standstill);
        }
        Gap gap = search.gap();
        if (gap != null) {
            return List.of(Wording.DISPLACED.of(
                    file,
                    gap.startSeconds(),
                    1000 * Math.abs(gap.jumpSeconds()),
                    gap.jumpSeconds() > 0 ? "later" : "earlier"));
        }
        if (suspected == 0 || search.resolvedSeconds() <= 0) {
            return List.of();
        }
        Edge edge = Edge.within(sound, take, rate, search.delayFrames(), search.resolvedSeconds(), suspected);
        if (edge == Edge.NONE) {
            return List.of();
        }
        String seen = edge == Edge.FOUND
                ? ", and the sound jumps within its first %.1f s"
                : "; within the first %.1f s of the sound the samples cannot show it";
        return List.of(suspicion(file, run, String.format(Locale.ROOT, seen, search.resolvedSeconds())));
    }

    private static Finding suspicion(String file, RunReport run, String seen) {
        return run.lostSeconds() > 0
                ? Wording.CAME_LATE.of(file, 1000 * run.lostSeconds(), seen)
                : Wording.PLAYED_LATE.of(file, seen);
    }

    /** Equal samples for a second and more where the sound is not silent: there is nothing to place then. */
    private static @Nullable Finding standstill(String file, double[] sound, double[] take, double rate, long delay) {
        int end = (int) Math.min(take.length, delay + sound.length);
        int run = 1;
        for (int i = (int) Math.max(1, delay + 1); i <= end; i++) {
            if (i < end && take[i] == take[i - 1]) {
                run++;
                continue;
            }
            int from = (int) (i - run - delay);
            if (run >= STANDSTILL_SECONDS * rate
                    && rms(sound, from, from + run) > SOUNDING_SHARE * rms(sound, 0, sound.length)) {
                return Wording.FELL_STILL.of(file, run / rate, from / rate);
            }
            run = 1;
        }
        return null;
    }

    private static double rms(double[] x, int from, int to) {
        double square = 0;
        for (int i = from; i < to; i++) {
            square += x[i] * x[i];
        }
        return Math.sqrt(square / Math.max(1, to - from));
    }

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
                return at(
                        telling,
                        before,
                        sharpest.delayFrames() - delay(first.subList(0, Math.max(1, before - 1))),
                        rate);
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
            double middle =
                    (telling.get(second - 1).middle() + telling.get(second).middle()) / 2;
            return new Gap(middle, frames / rate);
        }

        private static boolean off(Segment segment, Segment sharpest, double rate) {
            return Math.abs(segment.delayFrames() - sharpest.delayFrames()) / rate > allowed(segment, sharpest);
        }

        private static boolean counts(List<Placed> run) {
            return run.size() > 1 || run.stream().anyMatch(Placed::isLong);
        }
    }

    /**
     * Whether a low sound jumps within a stretch of a recording: where its parts are too low to be placed to the length of an
     * interruption, the edge that an interruption leaves is still heard far above the frequencies of the sound.
     *
     * <p>The stretch is freed of everything below {@value #TIMES} times the highest frequency that the sound has there, {@value
     * #LEAST_HZ} Hz or more. Of a jump by s about s/2 is left, for a sample or two; a jump at a random moment exceeds 0.3 of the
     * root mean square nine times in ten. What is left is compared with its own noise, whose deviation is the median of its
     * magnitude over 0.6745.
     */
    private enum Edge {
        /** There is an edge. */
        FOUND,
        /** There is none, and it would stand out. */
        NONE,
        /** The noise would cover an edge. */
        HIDDEN;

        private static final double TIMES = 16;
        private static final double LEAST_HZ = 2000;
        private static final double HIGHEST_SHARE = 0.35;
        private static final double ENERGY_SHARE = 0.999;
        private static final double MARGIN_SECONDS = 0.1;
        /** Gaussian noise exceeds 6 deviations once in 5e8 samples. */
        private static final double DEVIATIONS = 10;

        /** What has to stand out of the noise for silence about an edge to mean that there is none. */
        private static final double LEAST_EDGE = 0.15;

        /** Below this share of the sound an edge is rather a rattle of the loudspeaker: common practice, no source. */
        private static final double FAINTEST_EDGE = 0.005;

        /**
         * Looks for an edge.
         *
         * @param sound what was played
         * @param take one channel of what was recorded
         * @param rate of both, hertz
         * @param delayFrames by how much later the sound lies in the recording
         * @param endSeconds where the stretch ends, seconds from the beginning of the sound
         * @param reachSeconds by how much what comes before an interruption may lie elsewhere
         */
        static Edge within(
                double[] sound, double[] take, double rate, long delayFrames, double endSeconds, double reachSeconds) {
            int end = (int) Math.min(sound.length, Math.round(endSeconds * rate));
            int margin = (int) Math.round(MARGIN_SECONDS * rate);
            int beside = margin + (int) Math.round(reachSeconds * rate);
            int from = (int) Math.max(0, Math.min(take.length, delayFrames - beside));
            int to = (int) Math.max(from, Math.min(take.length, delayFrames + end + beside));
            double cut = Math.max(LEAST_HZ, TIMES * highest(Arrays.copyOf(sound, Math.max(1, end)), rate));
            if (to - from <= 2 * margin || cut > HIGHEST_SHARE * rate) {
                return HIDDEN;
            }
            double[] y = Arrays.copyOfRange(take, from, to);
            double rms = Math.sqrt(Arrays.stream(y).map(v -> v * v).sum() / y.length);
            double[] high = above(y, margin, cut / rate);
            double[] inner = Arrays.stream(high, margin, y.length - margin)
                    .map(Math::abs)
                    .toArray();
            double[] sorted = inner.clone();
            Arrays.sort(sorted);
            double deviation = sorted[sorted.length / 2] / 0.6745;
            double largest = sorted[sorted.length - 1];
            if (largest > DEVIATIONS * deviation && largest > FAINTEST_EDGE * rms) {
                return FOUND;
            }
            return LEAST_EDGE * rms > DEVIATIONS * deviation ? NONE : HIDDEN;
        }

        private static double highest(double[] x, double rate) {
            int n = RealFourier.lengthFor(x.length);
            double[] spectrum = new double[n];
            // The end of the stretch is no end of the sound: without a window it would count as high frequencies.
            double[] window = Windows.hann(x.length);
            Arrays.setAll(spectrum, i -> i < x.length ? x[i] * window[i] : 0);
            RealFourier.ofLength(n).forward(spectrum);
            double[] sum = new double[n / 2];
            for (int i = 1; i < n / 2; i++) {
                sum[i] = sum[i - 1] + spectrum[2 * i] * spectrum[2 * i] + spectrum[2 * i + 1] * spectrum[2 * i + 1];
            }
            int at = 0;
            while (at < sum.length - 1 && sum[at] < ENERGY_SHARE * sum[sum.length - 1]) {
                at++;
            }
            return at * rate / n;
        }

        /** What lies above a share of the sample rate; the ends fade over the margin, so that they make no edge themselves. */
        private static double[] above(double[] y, int margin, double share) {
            int n = RealFourier.lengthFor(y.length);
            RealFourier fft = RealFourier.ofLength(n);
            double[] x = Arrays.copyOf(y, n);
            for (int i = 0; i < margin; i++) {
                double fade = 0.5 - 0.5 * Math.cos(Math.PI * i / margin);
                x[i] *= fade;
                x[y.length - 1 - i] *= fade;
            }
            fft.forward(x);
            x[0] = 0;
            x[1] = 0;
            for (int i = 1; i < Math.min(n / 2.0, share * n); i++) {
                x[2 * i] = 0;
                x[2 * i + 1] = 0;
            }
            fft.inverse(x);
            return x;
        }
    }
}
