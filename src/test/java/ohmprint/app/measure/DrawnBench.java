package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * A drawn session with one bench mistake or none: a coil, a room of mirror images with fractional delays, a divider, noise and
 * hum. Independent of the program except for the sound that is played and the writing of files.
 */
final class DrawnBench {
    static final int RATE = 44_100;
    private static final double SOUND_M_PER_S = 343;
    private static final int PATHS = 24;
    private static final double LEAD_SECONDS = 0.5;
    private static final double TAIL_SECONDS = 0.5;

    /** What is wrong. */
    enum Mistake {
        NONE,
        HUM,
        DRIFT,
        BABBLE,
        WRONG_LOAD,
        SWAPPED_LOADS,
        PERMUTED_LOADS,
        GAIN,
        MOVED,
        WARMED_ROOM,
        WARMED_SPEAKER,
        CONTACT,
        LIMITER,
        POLARITY,
        REFERENCE_MOVED
    }

    private record Path3(double[] at, double amplitude) {}

    private final SplittableRandom draw;
    private final Mistake mistake;
    private final double[] loads;
    private final double[] entered;
    private final int wrong;
    private final boolean file;
    private final boolean reference;
    final MovingCoil coil;
    private final double inputOhm;
    private final double inputFarad;
    private final double tolerancePercent;
    private final List<Path3> paths = new ArrayList<>();
    private final List<Path3> monitorPaths = new ArrayList<>();
    final String kind;

    DrawnBench(Mistake mistake, double[] loads, long seed) {
        this.mistake = mistake;
        this.loads = loads.clone();
        this.entered = loads.clone();
        draw = new SplittableRandom(seed * 1000 + mistake.ordinal());
        double r = Math.exp(Math.log(60) + draw.nextDouble() * Math.log(10));
        double peak = r * (0.2 + 1.2 * draw.nextDouble());
        coil = new MovingCoil(
                r,
                LossyInductor.ofHenries(r * 1e-5 * (0.2 + draw.nextDouble())),
                Resonance.ofPeak(peak, 60 + 200 * draw.nextDouble(), 0.8 + 2 * draw.nextDouble()));
        int how = draw.nextInt(3);
        file = how == 0 && mistake != Mistake.REFERENCE_MOVED;
        reference = how == 1 || mistake == Mistake.REFERENCE_MOVED;
        kind = file ? "file" : reference ? "reference" : "common";
        inputOhm = 1500 + 6000 * draw.nextDouble();
        inputFarad = 1e-12 * (100 + 600 * draw.nextDouble());
        tolerancePercent = draw.nextInt(2) == 0 ? 0.02 : 1;
        wrong = draw.nextInt(loads.length);
        for (int p = 0; p < PATHS; p++) {
            double way = 1.2 + (p == 0 ? 0 : 16 * draw.nextDouble() * draw.nextDouble());
            double[] direction = direction();
            double amplitude = (p == 0 ? 1 : 0.7 * (draw.nextDouble() - 0.5)) / way;
            paths.add(new Path3(scaled(direction, way), amplitude));
            monitorPaths.add(
                    new Path3(scaled(direction(), 0.7 + way), (p == 0 ? 1 : 0.7 * (draw.nextDouble() - 0.5)) / way));
        }
        switch (mistake) {
            case WRONG_LOAD -> {
                double factor = Math.exp(0.06 + 0.5 * draw.nextDouble());
                entered[wrong] *= draw.nextBoolean() ? factor : 1 / factor;
            }
            case SWAPPED_LOADS -> {
                int other = (wrong + 1) % loads.length;
                if (entered[other] == entered[wrong]) {
                    other = (wrong + 2) % loads.length;
                }
                double keep = entered[wrong];
                entered[wrong] = entered[other];
                entered[other] = keep;
            }
            case PERMUTED_LOADS -> {
                double first = entered[0];
                System.arraycopy(entered, 1, entered, 0, entered.length - 1);
                entered[entered.length - 1] = first;
            }
            default -> {}
        }
    }

    private double[] direction() {
        double z = 2 * draw.nextDouble() - 1;
        double a = 2 * Math.PI * draw.nextDouble();
        double s = Math.sqrt(1 - z * z);
        return new double[] {s * Math.cos(a), s * Math.sin(a), z};
    }

    private static double[] scaled(double[] v, double by) {
        return Arrays.stream(v).map(x -> x * by).toArray();
    }

    /** File of the take that the mistake is in; a room warms before the last one. */
    String faultyTake() {
        return name(mistake == Mistake.WARMED_ROOM ? loads.length - 1 : wrong);
    }

    private static String name(int k) {
        return "take-" + (k + 1) + ".wav";
    }

    /** Writes the session. */
    TakeFolder write(Path parent) throws IOException {
        TakeFolder folder = new TakeFolder(Files.createDirectories(parent));
        double[] sound = file
                ? ExponentialSweep.ofBand(20, 20_000, 2.5, -6, RATE).samples()
                : Noise.pink(4 * RATE, 0.1, RATE, draw.nextLong());
        if (file) {
            folder.write("stimulus.wav", RATE, sound);
        }
        double[] move = scaled(direction(), 1e-3 * (1 + 4 * draw.nextDouble()));
        double warm = 1 + (0.001 + 0.002 * draw.nextDouble());
        double driftDb = mistake == Mistake.DRIFT ? 0.02 : 0.003;
        double noiseRms = Math.pow(10, -4.6 + 0.9 * draw.nextDouble());
        StringBuilder manifest = new StringBuilder(String.format(
                Locale.ROOT,
                "version: 1%nmicrophone: {label: Drawn coil}%ninput: {resistance_ohm: %s, resistance_tolerance_percent: 0.2,"
                        + " capacitance_pf: %s}%nstimulus: {kind: %s%s}%ntakes:%n",
                inputOhm,
                inputFarad * 1e12,
                file ? "sweep" : "noise",
                file ? ", file: stimulus.wav" : ""));
        double creep = 0;
        for (int k = 0; k < loads.length; k++) {
            boolean here = k == wrong;
            double speed =
                    mistake == Mistake.WARMED_ROOM && k == loads.length - 1 ? SOUND_M_PER_S * warm : SOUND_M_PER_S;
            double[] shift = mistake == Mistake.MOVED && here ? move : new double[3];
            creep += driftDb * gaussian();
            double gain = Math.pow(10, creep / 20);
            if (mistake == Mistake.GAIN && here) {
                gain *= Math.pow(10, (draw.nextBoolean() ? 1 : -1) * (0.3 + draw.nextDouble()) / 20);
            }
            if (mistake == Mistake.POLARITY && here) {
                gain = -gain;
            }
            double hot = mistake == Mistake.WARMED_SPEAKER ? k : 0;
            double ohm = loads[k] * (1 + 1e-2 * tolerancePercent * (draw.nextDouble() - 0.5));
            double[] take = heard(sound, paths, shift, speed, gain, hot, ohm);
            if (mistake == Mistake.CONTACT && here) {
                double[] open = heard(sound, paths, shift, speed, gain, hot, 1e9);
                int from = (int) (RATE * (LEAD_SECONDS + 0.3 + draw.nextDouble()));
                System.arraycopy(open, from, take, from, (int) (0.3 * RATE));
            }
            if (mistake == Mistake.LIMITER && here) {
                limit(take);
            }
            disturb(take, noiseRms);
            String name = name(k);
            if (reference) {
                double[] monitor = heard(
                        sound,
                        monitorPaths,
                        mistake == Mistake.REFERENCE_MOVED && here ? scaled(move, 100) : new double[3],
                        speed,
                        gain,
                        hot,
                        Double.NaN);
                disturb(monitor, noiseRms);
                folder.write(name, RATE, take, monitor);
            } else {
                folder.write(name, RATE, take);
            }
            manifest.append(String.format(
                    Locale.ROOT,
                    "  - {file: %s, load_ohm: %s, load_tolerance_percent: %s, channel: 1%s}%n",
                    name,
                    entered[k],
                    tolerancePercent,
                    reference ? ", reference_channel: 2" : ""));
        }
        return folder.manifest(manifest.toString());
    }

    private double gaussian() {
        return Math.sqrt(-2 * Math.log(1 - draw.nextDouble())) * Math.cos(2 * Math.PI * draw.nextDouble());
    }

    private void disturb(double[] take, double noiseRms) {
        double[] noise = Noise.whiteGaussian(take.length, noiseRms, draw.nextLong());
        double phase = 2 * Math.PI * draw.nextDouble();
        double rms = Math.sqrt(Arrays.stream(take).map(x -> x * x).average().orElse(0));
        double hum = mistake == Mistake.HUM ? 0.1 * rms : 0;
        for (int i = 0; i < take.length; i++) {
            double t = 2 * Math.PI * 50.02 * i / RATE + phase;
            take[i] += noise[i] + hum * (Math.sin(t) + 0.4 * Math.sin(3 * t) + 0.2 * Math.sin(5 * t));
        }
        if (mistake == Mistake.BABBLE) {
            double[] voice = Noise.pink(take.length, 0.003 * rms / 0.1 * 10 * 0.1, RATE, draw.nextLong());
            double rate = 2 + 3 * draw.nextDouble();
            for (int i = 0; i < take.length; i++) {
                take[i] += voice[i] * Math.max(0, Math.sin(2 * Math.PI * rate * i / RATE + phase));
            }
        }
    }

    private static void limit(double[] take) {
        double peak = Arrays.stream(take).map(Math::abs).max().orElse(1);
        double threshold = 0.6 * peak;
        double envelope = 0;
        double fall = Math.exp(-1 / (0.05 * RATE));
        for (int i = 0; i < take.length; i++) {
            envelope = Math.max(Math.abs(take[i]), envelope * fall);
            take[i] *= envelope > threshold ? threshold / envelope : 1;
        }
    }

    private double[] heard(
            double[] sound, List<Path3> ways, double[] shift, double speed, double gain, double hot, double ohm) {
        int length = sound.length + (int) ((LEAD_SECONDS + TAIL_SECONDS) * RATE);
        int n = Integer.highestOneBit(length) << 1;
        double[] x = new double[n];
        System.arraycopy(sound, 0, x, (int) (LEAD_SECONDS * RATE), sound.length);
        DoubleFFT_1D fft = new DoubleFFT_1D(n);
        fft.realForward(x);
        double step = 2 * Math.PI * RATE / n;
        double[] hRe = new double[n / 2];
        double[] hIm = new double[n / 2];
        for (Path3 way : ways) {
            double d = Math.sqrt(
                    square(way.at[0] + shift[0]) + square(way.at[1] + shift[1]) + square(way.at[2] + shift[2]));
            double delay = d / speed;
            double c = Math.cos(step * delay);
            double s = -Math.sin(step * delay);
            double re = way.amplitude;
            double im = 0;
            for (int i = 0; i < n / 2; i++) {
                hRe[i] += re;
                hIm[i] += im;
                double next = re * c - im * s;
                im = re * s + im * c;
                re = next;
            }
        }
        x[0] = 0;
        x[1] = 0;
        for (int i = 1; i < n / 2; i++) {
            double hz = i * (double) RATE / n;
            Complex h = new Complex(hRe[i], hIm[i]).multiply(0.2 * gain);
            if (hot > 0) {
                double shape = 1 / (1 + square(hz / 300));
                h = h.multiply(Math.pow(10, -0.15 * hot * (0.2 + shape) / 20));
            }
            if (!Double.isNaN(ohm)) {
                Complex y = new Complex(1 / inputOhm + 1 / ohm, 2 * Math.PI * hz * inputFarad);
                h = h.divide(coil.impedance(hz).multiply(y).add(1));
            }
            double re = x[2 * i] * h.getReal() - x[2 * i + 1] * h.getImaginary();
            x[2 * i + 1] = x[2 * i] * h.getImaginary() + x[2 * i + 1] * h.getReal();
            x[2 * i] = re;
        }
        fft.realInverse(x, true);
        return Arrays.copyOf(x, length);
    }

    private static double square(double x) {
        return x * x;
    }
}
