package ohmprint.app.input;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleFunction;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * An input measured on an invented bench: a generator with an impedance of its own, a resistor, the input, whose voltage is
 * {@code E·Z_in/(Z_in + S + Z_g)} at every frequency of a zero-padded record; white noise and 24 bits of the converter.
 */
public final class InputBench {
    static final int RATE = 48_000;
    private static final double NOISE_RMS = 1e-5;
    private static final int LEAD = 30_000;
    private static final int TAIL = 20_000;

    private final Path folder;
    private final DoubleFunction<Complex> input;
    private final double generatorOhm;
    private final List<String> takes = new ArrayList<>();
    private final double[] sweep =
            ExponentialSweep.ofBand(20, 20_000, 4, -6, RATE).samples();

    /** A bench whose takes go into a folder. */
    public InputBench(Path folder, double generatorOhm, DoubleFunction<Complex> input) {
        this.folder = folder;
        this.generatorOhm = generatorOhm;
        this.input = input;
    }

    /** R in parallel with C, the closed form {@code R/(1 + jωRC)}. */
    public static DoubleFunction<Complex> parallel(double ohm, double pf) {
        return hz -> new Complex(1 / ohm, 2 * Math.PI * hz * pf * 1e-12).reciprocal();
    }

    /** A take through a resistor. */
    public InputBench take(double ohm) throws IOException {
        return take(ohm, ohm, 1);
    }

    /** A take through one resistor, entered as another, at a level relative to the others. */
    InputBench take(double ohm, double entered, double level) throws IOException {
        double[] x = new double[LEAD + sweep.length + TAIL];
        for (int i = 0; i < sweep.length; i++) {
            x[LEAD + i] = level * sweep[i];
        }
        double[] y = filtered(x, hz -> {
            Complex z = input.apply(Math.max(hz, 0.1));
            return z.divide(z.add(ohm + generatorOhm));
        });
        double[] noise = Noise.whiteGaussian(y.length, NOISE_RMS, 40 + takes.size());
        for (int i = 0; i < y.length; i++) {
            y[i] += noise[i];
        }
        String file = "take-" + (takes.size() + 1) + ".wav";
        write(file, y);
        String tolerance = entered == 0 ? "" : ", series_tolerance_percent: 0.05";
        takes.add(String.format(Locale.ROOT, "  - {file: %s, series_ohm: %s%s}", file, entered, tolerance));
        return this;
    }

    /** Measures with the generator stated as given. */
    InputOutcome measure(String generator, double toHz, boolean force) throws IOException, BadInputException {
        finish(generator);
        return MeasureInput.run(new MeasureRequest(folder, null, null, null, 20, toHz, force), Progress.SILENT);
    }

    /** Writes the sound and the manifest, with the generator stated as given. */
    public void finish(String generator) throws IOException {
        write("stimulus.wav", sweep);
        Files.writeString(
                folder.resolve("session.yaml"),
                "version: 1\npreamplifier: {label: Bench preamp 2}\ngenerator: {" + generator
                        + "}\nstimulus: {kind: sweep, file: stimulus.wav}\ntakes:\n" + String.join("\n", takes) + "\n");
    }

    private void write(String file, double[] samples) throws IOException {
        try (WavWriter writer = WavWriter.create(folder.resolve(file), 1, RATE, WavEncoding.PCM_24)) {
            writer.write(new double[][] {samples}, 0, samples.length);
        }
    }

    private static double[] filtered(double[] x, DoubleFunction<Complex> response) {
        int n = Integer.highestOneBit(x.length) << 1;
        double[] packed = Arrays.copyOf(x, n);
        DoubleFFT_1D fft = new DoubleFFT_1D(n);
        fft.realForward(packed);
        packed[1] = 0;
        for (int i = 1; i < n / 2; i++) {
            Complex v = response.apply(i * (double) RATE / n).multiply(new Complex(packed[2 * i], packed[2 * i + 1]));
            packed[2 * i] = v.getReal();
            packed[2 * i + 1] = v.getImaginary();
        }
        fft.realInverse(packed, true);
        return Arrays.copyOf(packed, x.length);
    }
}
