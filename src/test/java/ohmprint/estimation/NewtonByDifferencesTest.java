package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.linear.RealMatrix;
import org.junit.jupiter.api.Test;

class NewtonByDifferencesTest {
    /** {@code (x − 3)² + 2(y + 1)² + (x − 3)(y + 1)}: the curvature is [[2, 1], [1, 4]], its inverse [[4, −1], [−1, 2]]/7. */
    private static double parabola(double[] p) {
        double x = p[0] - 3;
        double y = p[1] + 1;
        return x * x + 2 * y * y + x * y;
    }

    /** Rosenbrock (1960), The Computer Journal 3, 175: a bent valley with its floor at (1, 1); here in thousandths. */
    private static double valley(double[] p) {
        double x = p[0] / 1000;
        double y = p[1] / 1000;
        return 100 * (y - x * x) * (y - x * x) + (1 - x) * (1 - x);
    }

    @Test
    void theLowestPointOfAParabolaIsFoundAndItsCurvature() {
        NewtonByDifferences search = new NewtonByDifferences(NewtonByDifferencesTest::parabola);

        double[] at = search.from(new double[] {0, 0}).at();

        assertThat(at[0]).isCloseTo(3, within(1e-3));
        assertThat(at[1]).isCloseTo(-1, within(1e-3));
        RealMatrix inverse = search.inverseCurvature(at);
        assertThat(inverse).isNotNull();
        assertThat(inverse.getEntry(0, 0)).isCloseTo(4 / 7.0, within(1e-9));
        assertThat(inverse.getEntry(0, 1)).isCloseTo(-1 / 7.0, within(1e-9));
        assertThat(inverse.getEntry(1, 1)).isCloseTo(2 / 7.0, within(1e-9));
    }

    /** The first damping, a thousandth, leaves a thousandth of the way or so. */
    @Test
    void oneStepLeadsNearlyThere() {
        double[] step = new NewtonByDifferences(NewtonByDifferencesTest::parabola).firstStep(new double[] {0, 0});

        assertThat(step).isNotNull();
        assertThat(step[0]).isCloseTo(3, within(0.01));
        assertThat(step[1]).isCloseTo(-1, within(0.01));
    }

    @Test
    void aBentValleyIsFollowed() {
        double[] at = new NewtonByDifferences(NewtonByDifferencesTest::valley)
                .from(new double[] {880, 760})
                .at();

        assertThat(at[0]).isCloseTo(1000, within(1.0));
        assertThat(at[1]).isCloseTo(1000, within(2.0));
    }

    /** A step goes no further than twenty at once, however far the parabola reaches. */
    @Test
    void aStepIsShort() {
        double[] step = new NewtonByDifferences(p -> (p[0] - 1000) * (p[0] - 1000)).firstStep(new double[] {0});

        assertThat(step).isNotNull().hasSize(1);
        assertThat(step[0]).isCloseTo(20, within(1e-9));
    }

    @Test
    void whatIsFlatHasNoStepAndNoCurvature() {
        NewtonByDifferences search = new NewtonByDifferences(p -> 7);

        assertThat(search.firstStep(new double[] {0, 0})).isNull();
        assertThat(search.inverseCurvature(new double[] {0, 0})).isNull();
        NewtonByDifferences.Minimum end = search.from(new double[] {4, 5});
        assertThat(end.at()).containsExactly(4, 5);
        assertThat(end.value()).isEqualTo(7);
    }
}
