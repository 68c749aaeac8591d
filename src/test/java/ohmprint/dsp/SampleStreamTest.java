package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import be.tarsos.dsp.AudioEvent;
import be.tarsos.dsp.AudioProcessor;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What comes out of the dispatcher is what went in. */
class SampleStreamTest {
    private static final int BLOCK = 4096;

    /** Every sample of up to 24 bits, and every one that a file of 32-bit floats holds, passes without any change. */
    @ParameterizedTest
    @ValueSource(ints = {8, 16, 24})
    void integersPassExactly(int bits) throws IOException {
        Random random = new Random(bits);
        int steps = 1 << (bits - 1);
        double[] x = random.ints(10_000, -steps, steps)
                .mapToDouble(v -> (double) v / steps)
                .toArray();
        assertThat(passed(x)).isEqualTo(x);
    }

    @Test
    void floatsPassExactlyWhateverTheirSize() throws IOException {
        Random random = new Random(1);
        double[] x = new double[10_000];
        Arrays.setAll(x, i -> Math.scalb(random.nextFloat() - 0.5f, random.nextInt(160) - 140));
        Arrays.setAll(x, i -> (float) x[i]);
        assertThat(passed(x)).isEqualTo(x);
        assertThat(Arrays.stream(x).map(Math::abs).max().orElseThrow()).isGreaterThan(1000);
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, BLOCK - 1, BLOCK, BLOCK + 1, 3 * BLOCK})
    void noSampleIsLostOrAddedAtTheEnd(int frames) throws IOException {
        double[] x = new double[frames];
        Arrays.setAll(x, i -> i + 1);
        assertThat(passed(x)).isEqualTo(x);
    }

    @Test
    void whatCannotBeReadIsThrownAfterTheProcessorsHaveEnded() {
        List<String> seen = new ArrayList<>();
        SampleStream broken = new SampleStream(48_000, BLOCK) {
            @Override
            int next(float[] into, int count) throws IOException {
                throw new IOException("disk gone");
            }
        };
        AudioProcessor processor = new AudioProcessor() {
            @Override
            public boolean process(AudioEvent event) {
                return seen.add("block");
            }

            @Override
            public void processingFinished() {
                seen.add("end");
            }
        };
        assertThatThrownBy(() -> broken.passThrough(List.of(processor)))
                .isInstanceOf(IOException.class)
                .hasMessage("disk gone");
        assertThat(seen).containsExactly("end");
    }

    private static double[] passed(double[] x) throws IOException {
        double[] out = new double[x.length];
        int[] at = {0};
        new ArrayStream(48_000, BLOCK, x).passThrough(List.of(new AudioProcessor() {
            @Override
            public boolean process(AudioEvent event) {
                for (float v : event.getFloatBuffer()) {
                    out[at[0]++] = v;
                }
                return true;
            }

            @Override
            public void processingFinished() {
                assertThat(at[0]).isEqualTo(x.length);
            }
        }));
        return out;
    }
}
