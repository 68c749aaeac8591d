package ohmprint.app.library;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class FalseDiscoveryTest {
    /** Benjamini and Hochberg 1995, section 3.2: fifteen tests of a study, of which the rule calls four (from memory). */
    private static final double[] PUBLISHED = {
        0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590,
        1.0000
    };

    @Test
    void ofThePublishedExampleFourArePositive() {
        boolean[] positive = Comparison.differing(PUBLISHED, 0.05);
        for (int i = 0; i < positive.length; i++) {
            assertThat(positive[i]).as("test " + (i + 1)).isEqualTo(i < 4);
        }
    }

    @Test
    void aLargeOneCarriesSmallerOnesThatWouldNotPassAlone() {
        // 0.03 > 1·0.05/2, yet 0.04 ≤ 2·0.05/2 takes it along
        assertThat(Comparison.differing(new double[] {0.04, 0.03}, 0.05)).containsExactly(true, true);
        assertThat(Comparison.differing(new double[] {0.06, 0.03}, 0.05)).containsExactly(false, false);
    }

    @Test
    void testsThatWereNotMadeDoNotCount() {
        assertThat(Comparison.differing(new double[] {Double.NaN, 0.04, Double.NaN}, 0.05))
                .containsExactly(false, true, false);
        assertThat(Comparison.differing(new double[0], 0.05)).isEmpty();
    }
}
