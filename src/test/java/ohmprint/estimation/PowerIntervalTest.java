package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import ohmprint.circuit.Divider;
import ohmprint.estimation.PowerSolver.PowerInterval;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

class PowerIntervalTest {
    private static final double GA = 1 / 150.0;
    private static final double GB = 1 / 1500.0;

    // Z = 150 + j62.8319 Ω into 150/1500 Ω: |r| put into the resistive formula gives 157.720 Ω, |Z| is 162.628 Ω.
    // Closed
    // form, recomputed with numpy.
    @Test
    void aReactiveSourceLiesWithinItsBounds() {
        PowerInterval interval = PowerInterval.of(ratio(new Complex(150, 62.8319)), GA, GB);
        assertThat(interval.lowOhm()).isCloseTo(157.720, within(5e-4));
        assertThat(interval.highOhm()).isGreaterThan(162.628);
    }

    @Test
    void theBoundsAreTheResistiveAndTheReactiveSource() {
        PowerInterval ofResistor = PowerInterval.of(ratio(new Complex(200, 0)), GA, GB);
        assertThat(ofResistor.lowOhm()).isCloseTo(200, withinPercentage(1e-9));
        PowerInterval ofReactance = PowerInterval.of(ratio(new Complex(0, 200)), GA, GB);
        assertThat(ofReactance.highOhm()).isCloseTo(200, withinPercentage(1e-9));
    }

    @Test
    void everyPassiveSourceBelowTheGeometricMeanOfTheLoadsLiesWithinItsBounds() {
        for (double modulus : new double[] {5, 50, 200, 470}) {
            for (int degrees = -90; degrees <= 90; degrees += 15) {
                Complex z = new Complex(0, Math.toRadians(degrees)).exp().multiply(modulus);
                PowerInterval interval = PowerInterval.of(ratio(z), GA, GB);
                assertThat(modulus)
                        .as("%s Ω at %d°", modulus, degrees)
                        .isBetween(interval.lowOhm() * (1 - 1e-9), interval.highOhm() * (1 + 1e-9));
            }
        }
    }

    @Test
    void aRatioBeyondTheLoadsLeavesTheTopOpen() {
        assertThat(PowerInterval.of(0.0099, GA, GB).highOhm()).isInfinite();
        assertThat(PowerInterval.of(1, GA, GB).lowOhm()).isZero();
    }

    private static double ratio(Complex z) {
        double r = Divider.ratio(z, new Complex(GA), new Complex(GB)).abs();
        return r * r;
    }
}
