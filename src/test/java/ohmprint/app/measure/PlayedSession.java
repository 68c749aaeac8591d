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
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.dsp.Noise;
import ohmprint.dsp.OtherClock;
import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * Takes of a stimulus file that a player plays as it likes, once or in a loop, on a clock of its own, while a recorder
 * starts and stops when it likes: an invented room, an invented coil behind the divider by its exact frequency response.
 */
final class PlayedSession {
    static final int RATE = 48_000;
    static final double INPUT_OHM = 5000;
    static final double INPUT_PF = 400;
    static final SourceModel COIL = new MovingCoil(200, LossyInductor.ofHenries(2e-3), Resonance.ofPeak(90, 140, 1.4));

    private static final double NOISE_RMS = 2e-5;
    private static final double GAIN = 0.25;
    private static final double ROOM_SECONDS = 0.12;

    private final TakeFolder session;
    private final SourceModel source;
    private final Random random;
    private final double[] room;
    private final double[] file;
    private final String kind;
    private final List<String> entries = new ArrayList<>();

    /**
     * An empty session.
     *
     * @param kind sweep or noise
     * @param file what is played
     */
    PlayedSession(Path parent, long seed, String kind, double[] file) throws IOException {
        this(parent, seed, kind, file, COIL);
    }

    /** The same with another source in place of the coil. */
    PlayedSession(Path parent, long seed, String kind, double[] file, SourceModel source) throws IOException {
        this.source = source;
        this.session = new TakeFolder(Files.createDirectories(parent.resolve("session")));
        this.random = new Random(new SplittableRandom(seed).nextLong());
        this.kind = kind;
        this.file = file.clone();
        this.room = new double[(int) (ROOM_SECONDS * RATE)];
        room[20] = 1;
        for (int r = 0; r < 24; r++) {
            int at = 60 + random.nextInt(room.length - 60);
            room[at] += 0.4 * random.nextGaussian() * Math.exp(-5.0 * at / room.length);
        }
    }

    /**
     * How a take came about.
     *
     * @param playerFrom when the player starts, seconds after the recorder; negative when it was playing already
     * @param passes how often it plays the file
     * @param seconds how long the recorder runs
     * @param ppm by how much the recorder's clock is faster
     */
    record Performance(double playerFrom, int passes, double seconds, int ppm) {}

    /** Records the source through a load. */
    PlayedSession take(double ohm, Performance how) throws IOException {
        int before = (int) (Math.max(0, -how.playerFrom) * RATE) + (how.playerFrom < 0 ? random.nextInt(RATE / 4) : 0);
        int lead = (int) (Math.max(0, how.playerFrom) * RATE) + (how.playerFrom < 0 ? 0 : random.nextInt(RATE / 4));
        int recorded = (int) (how.seconds * RATE);
        double[] air = new double[lead + before + recorded];
        for (int d = 0; d < room.length; d++) {
            for (int i = 0; room[d] != 0 && i < (long) how.passes * file.length && lead + d + i < air.length; i++) {
                air[lead + d + i] += room[d] * file[i % file.length];
            }
        }
        double[] heard = filtered(air, ohm);
        if (how.ppm != 0) {
            heard = OtherClock.recorded(heard, how.ppm, random.nextDouble());
        }
        double[] take = Arrays.copyOfRange(heard, before, Math.min(heard.length, before + recorded));
        double[] noise = Noise.whiteGaussian(take.length, NOISE_RMS, random.nextLong());
        for (int i = 0; i < take.length; i++) {
            take[i] += noise[i];
        }
        String name = "take-" + (entries.size() + 1) + ".wav";
        session.write(name, RATE, take);
        entries.add(
                String.format(Locale.ROOT, "  - {file: %s, load_ohm: %s, load_tolerance_percent: 0.02}", name, ohm));
        return this;
    }

    /** The folder with its manifest and the file that was played. */
    TakeFolder folder() throws IOException {
        session.write("stimulus.wav", RATE, file);
        return session.manifest("version: 1\nmicrophone: {label: Bench coil 5}\n"
                + String.format(
                        Locale.ROOT,
                        "input: {resistance_ohm: %s, resistance_tolerance_percent: 0.1, capacitance_pf: %s}\n",
                        INPUT_OHM,
                        INPUT_PF)
                + "stimulus: {kind: " + kind + ", file: stimulus.wav}\ntakes:\n" + String.join("\n", entries) + "\n");
    }

    private double[] filtered(double[] x, double ohm) {
        int n = Integer.highestOneBit(x.length) << 1;
        double[] packed = Arrays.copyOf(x, n);
        DoubleFFT_1D fft = new DoubleFFT_1D(n);
        fft.realForward(packed);
        packed[0] = 0;
        packed[1] = 0;
        for (int i = 1; i < n / 2; i++) {
            double hz = i * (double) RATE / n;
            Complex y = new Complex(1 / INPUT_OHM + 1 / ohm, 2 * Math.PI * hz * INPUT_PF * 1e-12);
            Complex h =
                    Complex.ONE.divide(source.impedance(hz).multiply(y).add(1)).multiply(GAIN);
            Complex v = h.multiply(new Complex(packed[2 * i], packed[2 * i + 1]));
            packed[2 * i] = v.getReal();
            packed[2 * i + 1] = v.getImaginary();
        }
        fft.realInverse(packed, true);
        return Arrays.copyOf(packed, x.length);
    }
}
