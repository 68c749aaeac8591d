package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.measure.TakeFindings;
import ohmprint.app.measure.TakeInspection;
import ohmprint.audiodevice.RunReport;
import ohmprint.dsp.TakeIndicators;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * A take that was just recorded, with what it can be compared to, and the checks that every take goes through at once.
 *
 * @param session the session, without this take
 * @param inspection its first pass, with its entry under the name of its file at this moment
 * @param run how playing and recording went
 * @param sound what was played, relative to full scale
 * @param bands its levels
 * @param earlier the kept takes with their levels, in order
 */
record RecordedTake(
        Session session,
        TakeInspection inspection,
        RunReport run,
        double[] sound,
        TakeLevels bands,
        List<AcceptedTakes.KeptTake> earlier) {
    private static final double FAINTEST_DBFS = -60;
    private static final double LEAST_CONTRAST_DB = 20;

    /** Its entry. */
    Take take() {
        return inspection.take();
    }

    /** What its first pass shows of the microphone's channel. */
    TakeIndicators seen() {
        return inspection.indicators();
    }

    /** Highest sample, dBFS. */
    double peakDbfs() {
        return 20 * Math.log10(seen().peak());
    }

    /**
     * What all checks find; a further one joins them here.
     *
     * @param name name that the take is to be known by instead of that of its file of the moment, or null for none
     * @throws IOException if its file cannot be read
     */
    List<Finding> findings(@Nullable String name) throws IOException {
        List<Finding> out = new ArrayList<>(TakeFindings.of(List.of(inspection), session.microphone()));
        contrast(out);
        out.addAll(SegmentContinuity.of(this));
        return out.stream().map(f -> new Finding(f.code(), name, f.message())).toList();
    }

    /** Whether it can be used with such findings. */
    boolean usable(List<Finding> findings) {
        return peakDbfs() > FAINTEST_DBFS
                && findings.stream().noneMatch(f -> f.code().spoilsTake());
    }

    /** Whether the sound stands out, and ends before the take does. */
    private void contrast(List<Finding> out) {
        String file = take().file();
        double contrast = 20 * Math.log10(seen().rms()) - seen().leadInDbfs();
        if (contrast < LEAST_CONTRAST_DB) {
            out.add(Wording.FAINT.of(file, contrast));
        }
        if (seen().onsetFrame().isPresent() && seen().endFrame().isEmpty()) {
            out.add(Wording.CUT_OFF.of(file));
        }
    }
}
