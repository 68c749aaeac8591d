package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;

/** The live meter. */
class LiveLevelTest {
    /** A sine of amplitude a has the mean square a²/2 (closed form): 3.01 dB below its peak. */
    @Test
    void aSineReadsItsPeakAndThreeDecibelsLess() {
        List<LiveLevel.Reading> readings = new ArrayList<>();
        LiveLevel level = new LiveLevel(48_000, 0.1, readings::add);
        double[] x = new double[48_000];
        for (int i = 0; i < x.length; i++) {
            x[i] = 0.1 + 0.5 * Math.sin(2 * Math.PI * 1000 * i / 48_000);
        }
        level.accept(x, 20_000);
        double[] rest = java.util.Arrays.copyOfRange(x, 20_000, x.length);
        level.accept(rest, rest.length);
        assertThat(readings).hasSize(10).allSatisfy(r -> {
            assertThat(r.peakDbfs()).isCloseTo(20 * Math.log10(0.6), Offset.offset(0.01));
            assertThat(r.rmsDbfs()).isCloseTo(20 * Math.log10(0.5) - 3.0103, Offset.offset(0.01));
        });
    }

    @Test
    void silenceIsMinusInfinity() {
        List<LiveLevel.Reading> readings = new ArrayList<>();
        new LiveLevel(48_000, 0.1, readings::add).accept(new double[4800], 4800);
        assertThat(readings).singleElement().satisfies(r -> {
            assertThat(r.peakDbfs()).isEqualTo(Double.NEGATIVE_INFINITY);
            assertThat(r.rmsDbfs()).isEqualTo(Double.NEGATIVE_INFINITY);
        });
    }
}
