package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.util.stream.IntStream;
import org.jtransforms.fft.DoubleFFT_1D;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Plans of transforms do not fill the memory, and are there when they are needed again. */
@Tag("slow")
class FourierPlansTest {
    /** Odd, and each with a large prime factor: such plans are the largest for their length. */
    private static final int[] LENGTHS =
            IntStream.range(0, 60).map(i -> 60_013 + 2 * i).toArray();

    /** As a bench that is open all day does with periods of noise of its own length each. */
    @Test
    void plansOfManyLengthsAreNotKeptForEver() {
        long before = held();
        for (int n : LENGTHS) {
            RealFourier.ofPeriod(n);
        }
        // Large arrays begin on regions of their own in the heap, which takes up to a half more than they hold.
        assertThat(held() - before).as("bytes held").isLessThan(2 * RealFourier.Plans.MOST_BYTES);
    }

    private static long held() {
        for (int i = 0; i < 3; i++) {
            System.gc();
        }
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    @Test
    void thePlanThatWasUsedLastIsUsedAgain() {
        RealFourier first = RealFourier.ofPeriod(1000);
        System.gc();
        assertThat(RealFourier.ofPeriod(1000)).isSameAs(first);
    }

    @Test
    void aPlanThatSomebodyUsesIsNotMadeTwice() {
        RealFourier mine = RealFourier.ofPeriod(59_999);
        for (int n : LENGTHS) {
            RealFourier.ofPeriod(n);
        }
        System.gc();
        assertThat(RealFourier.ofPeriod(59_999)).isSameAs(mine);
    }

    /** A cosine of k whole periods has N/2 in bin k and nothing elsewhere: the definition of the transform. */
    @Test
    void aPlanThatWasGivenUpIsMadeAnewAndRight() {
        int n = 60_000;
        for (int round = 0; round < 2; round++) {
            double[] x = new double[n];
            for (int i = 0; i < n; i++) {
                x[i] = Math.cos(2 * Math.PI * 7 * i / n);
            }
            RealFourier fft = RealFourier.ofPeriod(n);
            fft.forward(x);
            assertThat(fft.re(x, 7)).isCloseTo(n / 2.0, within(1e-6));
            assertThat(fft.re(x, 8)).isCloseTo(0, within(1e-6));
            for (int other : LENGTHS) {
                RealFourier.ofPeriod(other);
            }
        }
    }

    /** The arrays of the library's plan are counted; a plan may be taken for larger than it is, hardly for smaller. */
    @ParameterizedTest
    @ValueSource(ints = {4096, 1 << 18, 48_000, 96_000, 60_013, 131_071, 210_017})
    void theSizeOfAPlanIsKnown(int n) throws Exception {
        DoubleFFT_1D plan = new DoubleFFT_1D(n);
        long bytes = 0;
        for (Field field : DoubleFFT_1D.class.getDeclaredFields()) {
            if (field.getType().isArray()) {
                field.setAccessible(true);
                Object array = field.get(plan);
                bytes += array == null ? 0 : (long) Array.getLength(array) * (array instanceof int[] ? 4 : 8);
            }
        }
        assertThat(RealFourier.Plans.bytes(n))
                .as("%d samples hold %d bytes", n, bytes)
                .isBetween(bytes * 9 / 10, 4 * bytes);
    }
}
