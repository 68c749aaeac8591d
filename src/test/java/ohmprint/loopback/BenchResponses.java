package ohmprint.loopback;

import java.util.Random;
import java.util.function.DoubleFunction;
import org.apache.commons.math3.complex.Complex;

/** What stands between the sound that is played and the volts that are recorded, as responses in frequency. */
final class BenchResponses {
    private static final double GAIN = 1.2;
    private static final double ROOM_SECONDS = 0.06;

    private BenchResponses() {}

    /** The microphone with a resistor and the recording input across it. */
    static DoubleFunction<Complex> divided(double ohm) {
        return hz -> {
            Complex y = new Complex(
                    1 / SimulatedBench.INPUT_OHM + 1 / ohm, 2 * Math.PI * hz * SimulatedBench.INPUT_PF * 1e-12);
            return Complex.ONE.divide(
                    SimulatedBench.COIL.impedance(hz).multiply(y).add(1));
        };
    }

    /** A loudspeaker from 35 Hz, direct sound, and twenty reflections. */
    static DoubleFunction<Complex> reflections(Random random) {
        double[] at = new double[21];
        double[] level = new double[21];
        at[0] = 0.001;
        level[0] = GAIN;
        for (int i = 1; i < at.length; i++) {
            at[i] = 0.002 + ROOM_SECONDS * random.nextDouble();
            level[i] = GAIN * 0.3 * random.nextGaussian() * Math.exp(-4 * at[i] / ROOM_SECONDS);
        }
        return hz -> {
            Complex sum = Complex.ZERO;
            for (int i = 0; i < at.length; i++) {
                double turn = -2 * Math.PI * hz * at[i];
                sum = sum.add(new Complex(level[i] * Math.cos(turn), level[i] * Math.sin(turn)));
            }
            Complex s = new Complex(0, hz / 35);
            Complex high = s.divide(s.add(1));
            return sum.multiply(high);
        };
    }
}
