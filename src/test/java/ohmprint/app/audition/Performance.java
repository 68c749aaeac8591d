package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.function.DoubleFunction;
import java.util.random.RandomGenerator;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.circuit.Divider;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.dsp.Noise;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.SampleSource;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import org.apache.commons.math3.complex.Complex;

/** One invented performance, recorded by one invented microphone through any load: plucked notes over a bed of noise. */
final class Performance {
    static final double INPUT_OHM = 3000;
    static final double INPUT_PF = 470;

    private final int rate;
    private final double[] voltage;

    /** The open-circuit voltage of some seconds, at a rate in hertz. */
    Performance(int rate, double seconds, long seed) {
        this.rate = rate;
        RandomGenerator random = new SplittableRandom(seed);
        voltage = Noise.pink((int) (seconds * rate), 0.01, rate, seed);
        for (double at = 0.1; at < seconds - 0.3; at += 0.17) {
            double hz = 60 * Math.pow(2, 7 * random.nextDouble());
            int start = (int) (at * rate);
            for (int i = start; i < voltage.length; i++) {
                double t = (i - start) / (double) rate;
                voltage[i] += 0.08 * Math.exp(-6 * t) * Math.sin(2 * Math.PI * hz * t);
            }
        }
    }

    static AuditionRequest.Side side(Load load) {
        return new AuditionRequest.Side(load, INPUT_OHM, INPUT_PF);
    }

    /** What the input records of it. */
    double[] through(SourceModel source, Load load) {
        return filtered(voltage, rate, hz -> {
            double f = Math.max(hz, 1e-3);
            Complex y = new Complex(load.conductance() + 1 / INPUT_OHM, 2 * Math.PI * f * INPUT_PF * 1e-12);
            return Divider.response(source.impedance(f), y);
        });
    }

    /** Passes a record through a response, on a record padded with as many zeros. */
    static double[] filtered(double[] x, double rate, DoubleFunction<Complex> response) {
        RealFourier fourier = RealFourier.ofLength(2 * RealFourier.lengthFor(x.length));
        double[] packed = Arrays.copyOf(x, fourier.length());
        fourier.forward(packed);
        packed[0] *= response.apply(0).getReal();
        packed[1] *= response.apply(rate / 2).getReal();
        for (int i = 1; i < fourier.length() / 2; i++) {
            Complex v =
                    response.apply(i * rate / fourier.length()).multiply(new Complex(packed[2 * i], packed[2 * i + 1]));
            packed[2 * i] = v.getReal();
            packed[2 * i + 1] = v.getImaginary();
        }
        fourier.inverse(packed);
        return Arrays.copyOf(packed, x.length);
    }

    static Path write(Path file, int rate, WavEncoding encoding, double[]... channels) throws IOException {
        try (WavWriter writer = WavWriter.create(file, channels.length, rate, encoding)) {
            writer.write(channels, 0, channels[0].length);
        }
        return file;
    }

    static double[][] read(Path file) throws IOException {
        try (SampleSource source = AudioFiles.open(file)) {
            double[][] all = new double[source.channels()][(int) source.frames()];
            source.read(all, 0, all[0].length);
            return all;
        }
    }

    static String curve(Path folder, Measurement measurement) throws IOException {
        return Files.writeString(folder.resolve("curve.json"), CurveJson.write(measurement))
                .toString();
    }
}
