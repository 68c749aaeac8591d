package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.audiodevice.RunReport;
import ohmprint.audiofile.AudioFiles;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;

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
    private static final String AGAIN = "close other programs and record it again";

    private SegmentContinuity() {}

    /** What the samples show, and what the times of the run point to. */
    static List<Finding> of(RecordedTake recorded) throws IOException {
        double[] take;
        try (SampleSource source = AudioFiles.open(recorded.session().path(recorded.take()))) {
            take = Samples.channel(source, recorded.take().channel() - 1, MOST_FRAMES);
        }
        String file = recorded.take().file();
        double rate = recorded.rate();
        RunReport run = recorded.run();
        List<Finding> out = new ArrayList<>();
        double suspected =
                run.lostSeconds() > 0 ? run.lostSeconds() : run.playbackRanEmpty() ? SHORTEST_SUSPECTED_SECONDS : 0;
        Gap.Search search = Gap.search(recorded.sound(), take, rate, suspected);
        Gap gap = search.gap();
        if (search.delayFrames() == null) {
            out.add(
                    new Finding(
                            FindingCode.NOT_COHERENT,
                            file,
                            "does not hold the sound that was played; check loudspeaker, cables and channel, and record it again"));
            suspicion(out, file, run, "");
            return out;
        }
        if (standstill(out, file, recorded.sound(), take, rate, search.delayFrames())) {
            return out;
        }
        if (gap != null) {
            out.add(new Finding(
                    FindingCode.DROPOUT,
                    file,
                    String.format(
                            Locale.ROOT,
                            "from about %.1f s on the sound comes %.0f ms %s than before: playing or recording was"
                                    + " interrupted; %s",
                            gap.startSeconds(),
                            1000 * Math.abs(gap.jumpSeconds()),
                            gap.jumpSeconds() > 0 ? "later" : "earlier",
                            AGAIN)));
        } else if (suspected > 0 && search.resolvedSeconds() > 0) {
            Jump jump = Jump.within(
                    recorded.sound(), take, rate, search.delayFrames(), search.resolvedSeconds(), suspected);
            if (jump != Jump.NONE) {
                suspicion(
                        out,
                        file,
                        run,
                        String.format(
                                Locale.ROOT,
                                jump == Jump.FOUND
                                        ? ", and the sound jumps within its first %.1f s"
                                        : "; within the first %.1f s of the sound the samples cannot show it",
                                search.resolvedSeconds()));
            }
        }
        return out;
    }

    private static void suspicion(List<Finding> out, String file, RunReport run, String seen) {
        if (run.playbackRanEmpty() || run.lostSeconds() > 0) {
            String what = run.lostSeconds() > 0
                    ? String.format(
                            Locale.ROOT,
                            "about %.0f ms of the recording may be missing, by the times at which it came",
                            1000 * run.lostSeconds())
                    : "the computer may have been too busy to play without a gap";
            out.add(new Finding(FindingCode.DROPOUT, file, what + seen + "; " + AGAIN));
        }
    }

    /** Equal samples for a second and more where the sound is not silent: there is nothing to place then. */
    private static boolean standstill(
            List<Finding> out, String file, double[] sound, double[] take, double rate, long delay) {
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
                out.add(new Finding(
                        FindingCode.DROPOUT,
                        file,
                        String.format(
                                Locale.ROOT,
                                "stands still for %.1f s from %.1f s of the sound on; check device and cables, and"
                                        + " record it again",
                                run / rate,
                                from / rate)));
                return true;
            }
            run = 1;
        }
        return false;
    }

    private static double rms(double[] x, int from, int to) {
        double square = 0;
        for (int i = from; i < to; i++) {
            square += x[i] * x[i];
        }
        return Math.sqrt(square / Math.max(1, to - from));
    }
}
