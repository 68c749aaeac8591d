package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.measure.TakeFindings;
import ohmprint.dsp.TakeIndicators;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import org.jspecify.annotations.Nullable;

/** The checks that every take goes through as soon as it is recorded. */
final class TakeChecks {
    private static final double FAINTEST_DBFS = -60;
    private static final double LEAST_CONTRAST_DB = 20;

    private static final List<TakeCheck> ALL = List.of(
            recorded -> TakeFindings.of(
                    List.of(recorded.inspection()), recorded.session().microphone()),
            TakeChecks::contrast,
            SegmentContinuity::of);

    private TakeChecks() {}

    /** What all checks find. */
    static List<Finding> of(RecordedTake recorded) throws IOException {
        List<Finding> out = new ArrayList<>();
        for (TakeCheck check : ALL) {
            out.addAll(check.of(recorded));
        }
        return out;
    }

    /** Whether a take with such findings can be used. */
    static boolean usable(TakeIndicators seen, List<Finding> findings) {
        return 20 * Math.log10(seen.peak()) > FAINTEST_DBFS
                && findings.stream().noneMatch(f -> f.code().spoilsTake());
    }

    /** Findings with the name that the take is to be known by, null for none, instead of that of its file of the moment. */
    static List<Finding> named(List<Finding> findings, @Nullable String name) {
        return findings.stream()
                .map(f -> new Finding(f.code(), name, f.message()))
                .toList();
    }

    /** Whether the sound stands out, and ends before the take does. */
    private static List<Finding> contrast(RecordedTake recorded) {
        TakeIndicators seen = recorded.inspection().indicators();
        String file = recorded.take().file();
        List<Finding> out = new ArrayList<>();
        double level = 20 * Math.log10(seen.rms());
        if (level - seen.leadInDbfs() < LEAST_CONTRAST_DB) {
            out.add(new Finding(
                    FindingCode.LOW_SNR,
                    file,
                    String.format(
                            Locale.ROOT,
                            "stands only %.0f dB above the noise; play louder, come closer, or find what makes noise",
                            level - seen.leadInDbfs())));
        }
        if (seen.onsetFrame().isPresent() && seen.endFrame().isEmpty()) {
            out.add(new Finding(
                    FindingCode.LOW_SNR,
                    file,
                    "ends before the sound has died away; give a longer tail or stop what still sounds"));
        }
        return out;
    }
}
