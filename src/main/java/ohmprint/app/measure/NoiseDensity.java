package ohmprint.app.measure;

import java.util.function.DoubleUnaryOperator;
import ohmprint.signal.HumLines;
import ohmprint.signal.NoiseFloor;

/**
 * Noise of a take against frequency, tabulated: asked for every bin, it has to be quick.
 *
 * <p>The floor between the lines is interpolated linearly over {@value #POINTS} points that are uniform in ln f. The power
 * of each line is spread over {@value #REACH_HZ} Hz to both sides, so that bins next to hum weigh as little as they
 * deserve.
 */
final class NoiseDensity implements DoubleUnaryOperator {
    private static final int POINTS = 600;
    private static final double LOWEST_HZ = 5;
    private static final double REACH_HZ = 2;
    /** Full-scale² per hertz of a silence of zeros: no weight may be infinite. */
    static final double LEAST = 1e-19;

    private final double logLow;
    private final double perStep;
    private final double[] density;
    private final double[] lineHz;
    private final double[] lineDensity;

    private NoiseDensity(double logLow, double perStep, double[] density, double[] lineHz, double[] lineDensity) {
        this.logLow = logLow;
        this.perStep = perStep;
        this.density = density;
        this.lineHz = lineHz;
        this.lineDensity = lineDensity;
    }

    /** Tabulates a floor and the lines that were left out of it. */
    static NoiseDensity of(NoiseFloor floor, HumLines hum, double sampleRate) {
        double low = Math.log(LOWEST_HZ);
        double step = (Math.log(sampleRate / 2) - low) / (POINTS - 1);
        double[] density = new double[POINTS];
        for (int i = 0; i < POINTS; i++) {
            density[i] = Math.max(LEAST, floor.psd(Math.exp(low + i * step)));
        }
        double[] hz = hum.lines().stream().mapToDouble(HumLines.Line::hz).toArray();
        double[] spread = hum.lines().stream()
                .mapToDouble(l -> Math.pow(10, l.levelDbfs() / 10) / (2 * REACH_HZ))
                .toArray();
        return new NoiseDensity(low, 1 / step, density, hz, spread);
    }

    @Override
    public double applyAsDouble(double hz) {
        double place = Math.min(POINTS - 1.000001, Math.max(0, (Math.log(hz) - logLow) * perStep));
        int i = (int) place;
        double d = density[i] + (place - i) * (density[i + 1] - density[i]);
        for (int l = 0; l < lineHz.length; l++) {
            if (Math.abs(lineHz[l] - hz) <= REACH_HZ) {
                d += lineDensity[l];
            }
        }
        return d;
    }
}
