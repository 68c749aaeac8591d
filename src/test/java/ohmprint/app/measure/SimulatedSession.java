package ohmprint.app.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.DoubleFunction;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * Takes of an invented coil on an invented bench, written as a session folder: sound, twenty reflections, the divider
 * {@code 1/(1 + Z·(1/R_load + Y_in))} by its exact frequency response, white noise, a start at a random whole sample.
 */
final class SimulatedSession {
    static final int RATE = 44_100;
    static final double INPUT_OHM = 5000;
    static final double INPUT_PF = 400;
    /** A coil of 200 Ω with its resonance at 140 Hz. */
    static final SourceModel COIL = new MovingCoil(200, LossyInductor.ofHenries(2e-3), Resonance.ofPeak(90, 140, 1.4));

    private static final double NOISE_RMS = 5e-5;
    private static final double LEAST_LEAD_SECONDS = 0.45;
    private static final double TAIL_SECONDS = 0.4;
    private static final double ROOM_SECONDS = 0.06;
    /** Leaves room for an open take below full scale. */
    private static final double GAIN = 0.25;

    private final TakeFolder session;
    private final Random random;
    private final double[] room;
    private final List<String> entries = new ArrayList<>();
    private double noiseRms = NOISE_RMS;

    SimulatedSession(Path parent, long seed) throws IOException {
        this.session = new TakeFolder(Files.createDirectories(parent.resolve("session")));
        this.random = new Random(new SplittableRandom(seed).nextLong());
        this.room = reflections();
    }

    /** A sweep over the whole range. */
    static double[] sweep() {
        return ExponentialSweep.ofBand(20, 20_000, 1.5, -6, RATE).samples();
    }

    /** Pink noise. */
    static double[] pink(double seconds, long seed) {
        return Noise.pink((int) (seconds * RATE), 0.1, RATE, seed);
    }

    /** What a source in parallel with the input would be without a load, siemens. */
    static Complex inputAdmittance(double hz) {
        return new Complex(1 / INPUT_OHM, 2 * Math.PI * hz * INPUT_PF * 1e-12);
    }

    SimulatedSession noise(double rms) {
        noiseRms = rms;
        return this;
    }

    /** Records the coil through a load that is entered as it is. */
    SimulatedSession take(double[] sound, double ohm) throws IOException {
        return take(sound, COIL, ohm, ohm, 1);
    }

    /**
     * Records a take.
     *
     * @param sound what is played
     * @param source what is measured
     * @param ohm the load as it is
     * @param enteredOhm the load as the manifest has it
     * @param level gain of this take
     */
    SimulatedSession take(double[] sound, SourceModel source, double ohm, double enteredOhm, double level)
            throws IOException {
        int lead = (int) ((LEAST_LEAD_SECONDS + 0.3 * random.nextDouble()) * RATE);
        double[] air = new double[lead + sound.length + (int) (TAIL_SECONDS * RATE)];
        for (int d = 0; d < room.length; d++) {
            for (int i = 0; room[d] != 0 && i < sound.length; i++) {
                air[lead + d + i] += room[d] * sound[i];
            }
        }
        double[] take = filtered(air, hz -> {
            Complex y = inputAdmittance(hz).add(1 / ohm);
            return Complex.ONE.divide(source.impedance(hz).multiply(y).add(1)).multiply(GAIN * level);
        });
        double[] noise = Noise.whiteGaussian(take.length, noiseRms, random.nextLong());
        for (int i = 0; i < take.length; i++) {
            take[i] += noise[i];
        }
        String file = "take-" + (entries.size() + 1) + ".wav";
        session.write(file, RATE, take);
        entries.add(String.format(
                Locale.ROOT,
                "  - {file: %s, load_ohm: %s, load_tolerance_percent: 0.02, channel: 1}",
                file,
                enteredOhm));
        return this;
    }

    /** The folder, with a manifest that names no stimulus. */
    TakeFolder folder() throws IOException {
        return folder("noise", null);
    }

    /** The folder, with the sound that was played beside it. */
    TakeFolder folder(String kind, double[] stimulus) throws IOException {
        if (stimulus != null) {
            session.write("stimulus.wav", RATE, stimulus);
        }
        return session.manifest("version: 1\nmicrophone: {label: Bench coil 4}\n"
                + String.format(
                        Locale.ROOT,
                        "input: {resistance_ohm: %s, resistance_tolerance_percent: 0.1, capacitance_pf: %s}\n",
                        INPUT_OHM,
                        INPUT_PF)
                + "stimulus: {kind: " + kind + (stimulus == null ? "}\n" : ", file: stimulus.wav}\n")
                + "takes:\n" + String.join("\n", entries) + "\n");
    }

    private double[] reflections() {
        double[] response = new double[(int) (ROOM_SECONDS * RATE)];
        response[20] = 1;
        for (int r = 0; r < 20; r++) {
            int at = 60 + random.nextInt(response.length - 60);
            response[at] += 0.4 * random.nextGaussian() * Math.exp(-4.0 * at / response.length);
        }
        return response;
    }

    /** Passes a record through a response, on a record padded with at least as many zeros. */
    static double[] filtered(double[] x, DoubleFunction<Complex> response) {
        int n = Integer.highestOneBit(x.length) << 2;
        double[] packed = Arrays.copyOf(x, n);
        DoubleFFT_1D fft = new DoubleFFT_1D(n);
        fft.realForward(packed);
        packed[0] *= response.apply(0).getReal();
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
