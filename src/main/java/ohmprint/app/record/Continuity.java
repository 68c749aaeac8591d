package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import ohmprint.audio.RunReport;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.signal.SampleSource;
import ohmprint.signal.Samples;
import ohmprint.signal.SegmentDelays;
import ohmprint.signal.SegmentDelays.Segment;
import ohmprint.wav.AudioFiles;

/** Whether the take holds the sound that was played, in one piece. */
final class Continuity {
    private static final int PARTS = 4;
    /** A part that is not there shows 4 to 6 by chance; one that is there through a room, 20 and more. */
    private static final double FOUND = 10;

    private static final double LEAST_JUMP_SECONDS = 0.002;
    private static final double WIDTHS = 4;
    private static final int MOST_FRAMES = 1 << 24;

    private Continuity() {}

    /** What the parts of the sound and the run itself show. */
    static List<Finding> of(RecordedTake recorded) throws IOException {
        List<Finding> out = new ArrayList<>();
        String file = recorded.take().file();
        interrupted(out, file, recorded.run());
        double[] take;
        try (SampleSource source = AudioFiles.open(recorded.session().path(recorded.take()))) {
            take = Samples.channel(source, recorded.take().channel() - 1, MOST_FRAMES);
        }
        List<Segment> found = SegmentDelays.of(recorded.sound(), take, recorded.rate(), PARTS).stream()
                .filter(s -> s.prominence() > FOUND)
                .sorted(Comparator.comparingDouble(Segment::widthSeconds))
                .toList();
        if (found.isEmpty()) {
            out.add(
                    new Finding(
                            FindingCode.NOT_COHERENT,
                            file,
                            "does not hold the sound that was played; check loudspeaker, cables and channel, and record it again"));
            return out;
        }
        Segment sharpest = found.get(0);
        for (Segment segment : found) {
            double jump = (segment.delayFrames() - sharpest.delayFrames()) / recorded.rate();
            double allowed = LEAST_JUMP_SECONDS + WIDTHS * (segment.widthSeconds() + sharpest.widthSeconds());
            if (Math.abs(jump) > allowed) {
                out.add(new Finding(
                        FindingCode.DROPOUT,
                        file,
                        String.format(
                                Locale.ROOT,
                                "the sound from %.1f s on lies %.0f ms off the rest: playing or recording was interrupted;"
                                        + " close other programs and record it again",
                                segment.startSeconds(),
                                1000 * jump)));
                break;
            }
        }
        return out;
    }

    private static void interrupted(List<Finding> out, String file, RunReport run) {
        if (run.playbackRanEmpty()) {
            out.add(new Finding(
                    FindingCode.DROPOUT,
                    file,
                    "the computer was too busy to play without a gap; close other programs and record it again"));
        }
        if (run.lostSeconds() > 0) {
            out.add(new Finding(
                    FindingCode.DROPOUT,
                    file,
                    String.format(
                            Locale.ROOT,
                            "about %.0f ms of the recording are missing; close other programs and record it again",
                            1000 * run.lostSeconds())));
        }
    }
}
