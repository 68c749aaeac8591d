package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import ohmprint.dsp.LevelMeter.LevelEnvelope;
import ohmprint.dsp.TakeIndicators;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.session.Session;
import ohmprint.session.StimulusKind;

/**
 * Signs of an automatic level control in the recorder: the gain follows the sound, so takes through different loads are
 * not at one gain.
 *
 * <p>Two kinds of evidence within a take. The background between the sound's frequencies, or after the sound, lies below
 * that of the lead-in ({@link ohmprint.dsp.TakeAnalyzer#backgroundDropDb}): no steady gain does that, whatever the room. And where
 * the sound is steady noise, its level right after the start stands higher above that of a companion than it does later:
 * the control needs a moment to turn the gain down. The companion has the same sound at the same moments: the reference
 * channel, or an aligned take through another load.
 */
final class AutomaticGainDetector {
    /** Fall of the background that is evidence, dB; steady takes stay below 0.5. */
    static final double BACKGROUND_DB = 1;
    /** Excess at the start against an aligned take, dB; steady takes stay below 0.3. */
    static final double START_DB = 0.8;
    /** The same against a reference channel, which hears another place of the room: steady takes stay below 1.8. */
    static final double START_AGAINST_REFERENCE_DB = 3;

    /** A block this far below the sound as a whole is not sound yet, dB. */
    private static final double RISEN_DB = 10;

    private static final double SKIPPED_SECONDS = 0.02;
    private static final double START_SECONDS = 0.1;
    private static final double LEAST_SECONDS = 1.5;

    private AutomaticGainDetector() {}

    /** One finding for each take that shows it. */
    static List<Finding> findings(Session session, List<TakeInspection> takes, AlignedSpectra seen) {
        boolean steady = session.stimulus() != null && session.stimulus().kind() == StimulusKind.NOISE;
        List<Finding> out = new ArrayList<>();
        for (TakeInspection take : takes) {
            boolean referenced = take.reference() != null;
            double drop = take.backgroundDropDb();
            double start = steady ? excessAtStart(take, takes, seen) : 0;
            if (drop >= BACKGROUND_DB) {
                out.add(Wording.BACKGROUND_FELL.of(take.take().file(), drop));
            } else if (start >= (referenced ? START_AGAINST_REFERENCE_DB : START_DB)) {
                String companion = referenced ? "the reference channel" : "the other takes";
                out.add(Wording.LOUDER_START.of(take.take().file(), start, companion));
            }
        }
        return out;
    }

    /** Excess of a take at its start over how it goes on, against its companions, dB; 0 where there is none. */
    private static double excessAtStart(TakeInspection take, List<TakeInspection> takes, AlignedSpectra seen) {
        TakeIndicators reference = take.reference();
        if (reference != null) {
            return excess(take.indicators(), reference, 0);
        }
        double most = 0;
        for (TakeInspection other : takes) {
            double lag =
                    seen.of(take.take()).delaySamples() - seen.of(other.take()).delaySamples();
            if (!Double.isNaN(lag)) {
                most = Math.max(most, excess(take.indicators(), other.indicators(), -lag));
            }
        }
        return most;
    }

    /**
     * Level of a take above its companion in the first tenth of a second less that in the rest.
     *
     * @param shiftFrames what to add to a frame of the take to get the same moment in the companion
     */
    private static double excess(TakeIndicators take, TakeIndicators companion, double shiftFrames) {
        if (take.onsetFrame().isEmpty()) {
            return 0;
        }
        LevelEnvelope own = take.envelope();
        LevelEnvelope other = companion.envelope();
        int shift = (int) Math.round(shiftFrames / own.blockFrames());
        int onset = (int) (take.onsetFrame().getAsLong() / own.blockFrames());
        int end =
                (int) Math.min(take.endFrame().orElse(take.frames()) / own.blockFrames(), other.size() - (long) shift);
        if (own.blockFrames() != other.blockFrames() || onset + shift < 0) {
            return 0;
        }
        int sounding = Math.max(sounding(own, onset, end), sounding(other, onset + shift, end + shift) - shift);
        int from = Math.max(sounding, onset + (int) Math.round(SKIPPED_SECONDS / own.blockSeconds()));
        int start = from + (int) Math.max(1, Math.round(START_SECONDS / own.blockSeconds()));
        if ((end - start) * own.blockSeconds() < LEAST_SECONDS) {
            return 0;
        }
        double first = own.levelDbfs(from, start) - other.levelDbfs(from + shift, start + shift);
        double rest = own.levelDbfs(start, end) - other.levelDbfs(start + shift, end + shift);
        double excess = first - rest;
        return Double.isFinite(excess) ? excess : 0;
    }

    /**
     * The first block from an onset on that is about as loud as what follows: an onset may be found early, on a noise before
     * the sound, and silence of two channels has nothing to do with their gain.
     */
    private static int sounding(LevelEnvelope level, int onset, int end) {
        double usual = level.levelDbfs(onset, end);
        int at = onset;
        while (at < end - 1 && !(level.levelDbfs(at, at + 1) >= usual - RISEN_DB)) {
            at++;
        }
        return at;
    }
}
