package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What the check of the level foretells, and the gain that it suggests. */
@Tag("slow")
class LevelCheckTest extends BenchInNumbers {
    /**
     * The forecast of the level check against what the session states once it is measured, first load repeated. It expects 200 Ω at
     * all frequencies, where the bench has a coil.
     */
    @Test
    void theSessionStatesWhatTheLevelCheckForetold() throws Exception {
        Recording recording = open(150.0, 1500.0);
        recording.cautionsRead();
        bench.ohm = 1500;
        double foretold =
                Objects.requireNonNull(recording.checkLevel().predicted()).medianPercent();
        recording.levelAccepted();
        for (double ohm : List.copyOf(recording.remainingOhms())) {
            take(recording, ohm);
            recording.keep();
        }
        MeasureOutcome measured = MeasureSession.run(MeasureRequest.of(folder()), Progress.SILENT);
        double[] stated = measured.measurement().curve().values().stream()
                .mapToDouble(
                        v -> v.isMeasured() ? 100 * v.magnitudeU95Ohm() / v.magnitudeOhm() : Double.POSITIVE_INFINITY)
                .sorted()
                .toArray();
        assertThat(stated[stated.length / 2] / foretold).isBetween(0.9, 1.1);
    }

    /**
     * With 1 % of drift little else counts: √1.5·(Z + R_a)(Z + R_b)/((R_b − R_a)·Z) with 200 Ω, and 150 and 1500 Ω across 3 kΩ,
     * times Student's t of 4 degrees, 2.776 (JCGM 100:2008, table G.2), is 8.16 % (closed form).
     */
    @Test
    void theDriftThatAManifestStatesIsForetold() throws Exception {
        Recording after = resumedWithOnePercentOfDrift();
        double stated = Objects.requireNonNull(after.checkLevel().predicted()).medianPercent();
        assertThat(stated).isCloseTo(8.16, withinPercentage(3));
    }

    /** A gate between takes makes zeros of the silence; what is foretold then is what drift alone leaves, as above. */
    @Test
    void aSilenceOfZerosIsNoReasonToForetellNothing() throws Exception {
        Recording after = resumedWithOnePercentOfDrift();
        bench.noise = 0;

        LevelReport seen = after.checkLevel();

        assertThat(seen.noiseDbfs()).isEqualTo(Double.NEGATIVE_INFINITY);
        assertThat(Objects.requireNonNull(seen.predicted()).medianPercent()).isCloseTo(8.16, withinPercentage(3));
    }

    private Recording resumedWithOnePercentOfDrift() throws Exception {
        open(150.0, 1500.0);
        Path manifest = folder().resolve("session.yaml");
        Files.writeString(manifest, Files.readString(manifest) + "\nlevel_drift_percent: 1\n");
        Recording after = resumed();
        after.cautionsRead();
        bench.ohm = 1500;
        return after;
    }

    @Test
    void theLevelCheckSuggestsAGain() throws Exception {
        Recording recording = open(150.0, 1500.0);
        recording.cautionsRead();
        bench.ohm = 1500;
        double peak = recording.checkLevel().peakDbfs();
        bench.gain = Math.pow(10, (-30 - peak) / 20);
        assertThat(recording.checkLevel().gainChangeDb()).isCloseTo(22, org.assertj.core.data.Offset.offset(0.3));
        bench.gain = Math.pow(10, (-1 - peak) / 20);
        assertThat(recording.checkLevel().gainChangeDb()).isCloseTo(-7, org.assertj.core.data.Offset.offset(0.3));
        bench.gain = 1;
        assertThat(recording.checkLevel().clipped()).isFalse();
        bench.gain = Math.pow(10, (-1 - peak) / 20);
        bench.ceiling = 0.3;
        LevelReport clipped = recording.checkLevel();
        assertThat(clipped.acceptable()).isFalse();
        assertThat(clipped.gainChangeDb()).isLessThanOrEqualTo(-6);
        assertThat(clipped.clipped()).isTrue();
        assertThat(clipped.predicted()).as("the true level is not known").isNull();
        assertThat(files()).doesNotContain(SessionFolder.TRIAL);
    }
}
