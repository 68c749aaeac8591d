package ohmprint.signal;

import java.util.Comparator;
import java.util.List;

/**
 * Subtracts steady sines from samples, so that they do not leak into the noise between them.
 *
 * <p>Strongest first: the complex amplitude {@code 2·Σw·x·e^(−jωn)/Σw} through a Hann window w over each half gives the true
 * frequency by the phase that the line gains from one half to the other, then the whole gives amplitude and phase.
 */
final class LineRemoval {
    private LineRemoval() {}

    /** Subtracts the lines from {@code x} in place. */
    static void subtract(HumLines lines, double[] x, double sampleRate) {
        List<HumLines.Line> strongestFirst = lines.lines().stream()
                .sorted(Comparator.comparingDouble(HumLines.Line::levelDbfs).reversed())
                .toList();
        int half = x.length / 2;
        for (HumLines.Line line : strongestFirst) {
            double w = 2 * Math.PI * line.hz() / sampleRate;
            double[] first = amplitude(x, 0, half, w);
            double[] second = amplitude(x, half, half, w);
            double gained = Math.atan2(
                    second[1] * first[0] - second[0] * first[1], second[0] * first[0] + second[1] * first[1]);
            w += gained / half;
            double[] whole = amplitude(x, 0, x.length, w);
            for (int n = 0; n < x.length; n++) {
                x[n] -= whole[0] * Math.cos(w * n) - whole[1] * Math.sin(w * n);
            }
        }
    }

    /** Complex amplitude of {@code Re{a·e^(jwn)}}, n counted from the start of x: real and imaginary part. */
    private static double[] amplitude(double[] x, int from, int count, double w) {
        double re = 0;
        double im = 0;
        for (int i = 0; i < count; i++) {
            double v = (1 - Math.cos(2 * Math.PI * (i + 0.5) / count)) * x[from + i];
            re += v * Math.cos(w * (from + i));
            im -= v * Math.sin(w * (from + i));
        }
        return new double[] {2 * re / count, 2 * im / count};
    }
}
