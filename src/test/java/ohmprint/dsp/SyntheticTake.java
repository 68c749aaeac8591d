package ohmprint.dsp;

import java.util.Arrays;
import java.util.Random;

/** Invented takes for tests: everything a bench does to a sound, step by step. */
final class SyntheticTake {
    final double[] x;
    final double fs;

    SyntheticTake(double[] x, double fs) {
        this.x = x;
        this.fs = fs;
    }

    static SyntheticTake sweep(double fs, double seconds, double peak) {
        ExponentialSweep s = ExponentialSweep.ofBand(20, 20000, seconds, 20 * Math.log10(peak), fs);
        return new SyntheticTake(s.samples(), fs);
    }

    static SyntheticTake sine(double fs, double seconds, double hz, double peak, double phase) {
        double[] x = new double[(int) (fs * seconds)];
        Arrays.setAll(x, n -> peak * Math.sin(2 * Math.PI * hz * n / fs + phase));
        return new SyntheticTake(x, fs);
    }

    /** A resonance: second-order peaking filter, gain in decibels at its centre (bilinear transform). */
    SyntheticTake resonance(double hz, double q, double gainDb) {
        double a = Math.pow(10, gainDb / 40);
        double w = 2 * Math.PI * hz / fs;
        double alpha = Math.sin(w) / (2 * q);
        double a0 = 1 + alpha / a;
        double b0 = (1 + alpha * a) / a0;
        double b1 = -2 * Math.cos(w) / a0;
        double b2 = (1 - alpha * a) / a0;
        double a2 = (1 - alpha / a) / a0;
        double[] y = new double[x.length];
        double x1 = 0;
        double x2 = 0;
        double y1 = 0;
        double y2 = 0;
        for (int n = 0; n < x.length; n++) {
            double v = b0 * x[n] + b1 * x1 + b2 * x2 - b1 * y1 - a2 * y2;
            x2 = x1;
            x1 = x[n];
            y2 = y1;
            y1 = v;
            y[n] = v;
        }
        return new SyntheticTake(y, fs);
    }

    /** A dozen reflections with random delays up to 60 ms, decaying, and three resonances. */
    SyntheticTake room(Random random) {
        double[] y = x.clone();
        for (int r = 0; r < 12; r++) {
            int delay = (int) (fs * (0.001 + 0.06 * random.nextDouble()));
            double gain = (random.nextBoolean() ? 0.5 : -0.5) * random.nextDouble() * Math.exp(-delay / fs / 0.03);
            for (int n = delay; n < y.length; n++) {
                y[n] += gain * x[n - delay];
            }
        }
        SyntheticTake t = new SyntheticTake(y, fs);
        for (int r = 0; r < 3; r++) {
            t = t.resonance(
                    40 * Math.pow(250, random.nextDouble()), 3 + 10 * random.nextDouble(), 10 * random.nextDouble());
        }
        return t;
    }

    SyntheticTake scaledToPeak(double peak) {
        double max = peak();
        return times(peak / max);
    }

    double peak() {
        return Arrays.stream(x).map(Math::abs).max().orElse(0);
    }

    double rms() {
        return Math.sqrt(Arrays.stream(x).map(v -> v * v).average().orElse(0));
    }

    SyntheticTake times(double gain) {
        return new SyntheticTake(Arrays.stream(x).map(v -> gain * v).toArray(), fs);
    }

    SyntheticTake clipped(double low, double high) {
        return new SyntheticTake(
                Arrays.stream(x).map(v -> Math.max(low, Math.min(high, v))).toArray(), fs);
    }

    SyntheticTake plusWhite(double rms, long seed) {
        return plus(Noise.whiteGaussian(x.length, rms, seed));
    }

    SyntheticTake plus(double[] other) {
        double[] y = x.clone();
        for (int n = 0; n < y.length; n++) {
            y[n] += other[n];
        }
        return new SyntheticTake(y, fs);
    }

    SyntheticTake withSilence(double before, double after) {
        int lead = (int) Math.round(before * fs);
        double[] y = new double[lead + x.length + (int) Math.round(after * fs)];
        System.arraycopy(x, 0, y, lead, x.length);
        return new SyntheticTake(y, fs);
    }

    /** What an n-bit converter gives. */
    SyntheticTake quantised(int bits) {
        double steps = Math.pow(2, bits - 1);
        return new SyntheticTake(
                Arrays.stream(x)
                        .map(v -> Math.max(-steps, Math.min(steps - 1, Math.rint(v * steps))) / steps)
                        .toArray(),
                fs);
    }

    /** Band-limited to 0.46 of the lower rate by a windowed sinc, then every {@code ratio}-th sample: a converter's filter. */
    SyntheticTake decimated(int ratio) {
        int half = 48 * ratio;
        double[] h = new double[2 * half + 1];
        double cut = 0.92 / ratio;
        for (int i = -half; i <= half; i++) {
            double u = Math.PI * i / (half + 1);
            double sinc = i == 0 ? cut : Math.sin(Math.PI * cut * i) / (Math.PI * i);
            h[i + half] = sinc * (0.42 + 0.5 * Math.cos(u) + 0.08 * Math.cos(2 * u));
        }
        double[] y = new double[x.length / ratio];
        for (int n = 0; n < y.length; n++) {
            for (int k = Math.max(0, n * ratio - half); k <= Math.min(x.length - 1, n * ratio + half); k++) {
                y[n] += h[n * ratio - k + half] * x[k];
            }
        }
        return new SyntheticTake(y, fs / ratio);
    }

    TakeIndicators scan() {
        return ArraySource.scan(fs, x);
    }

    /** The same samples as a source with one channel. */
    SampleSource asSource() {
        return new ArraySource(fs, x);
    }
}
