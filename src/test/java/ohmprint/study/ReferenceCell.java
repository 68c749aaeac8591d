package ohmprint.study;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.dsp.ArraySource;
import ohmprint.dsp.NoiseFloor;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.CoherentSolver;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.Priors;
import ohmprint.estimation.ReferenceObserver;
import ohmprint.estimation.TakeRecording;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * One combination of the reference route whose takes are drawn sample by sample, each with noise of its own as its sound, so
 * that averaging in overlapping blocks and the noise of the reference channel count as they do at the bench.
 *
 * <p>The sound is white Gaussian noise, another in each take. Each channel hears it through a room of its own, with twenty
 * reflections and notches where the other has none; the microphone's goes through the divider of the take, {@code g_k/(1 + Z·y_k)} on
 * the zero-padded record. Both have white noise of their own, from the lead-in on.
 *
 * @param circuit what is measured
 * @param multiples loads as multiples of |Z| at 1 kHz
 * @param levelsDb level of the sound in each take, dB
 * @param seconds length of the sound
 * @param referenceSnrDb ratio of sound and noise in the reference channel of a take of 0 dB, dB
 * @param sessions how many sessions are drawn
 */
record ReferenceCell(
        StudyCircuit circuit,
        List<Double> multiples,
        List<Double> levelsDb,
        double seconds,
        double referenceSnrDb,
        int sessions)
        implements StudyCell.Drawn<ReferenceCell.Result> {
    /** Ratio of sound and noise in the microphone's channel of a take of 0 dB without a resistor, dB. */
    static final double MICROPHONE_SNR_DB = 60;

    /** Little, so that every value counts by itself: an error of a level is one for all bands of a session. */
    private static final double DRIFT = 0.00003;

    private static final double RATE = 8000;
    private static final double LOWEST_HZ = 60;
    private static final double HIGHEST_HZ = 3500;
    private static final double LEAD_SECONDS = 1;
    private static final double TAIL_SECONDS = 0.3;
    private static final double ROOM_SECONDS = 0.05;
    private static final int REFLECTIONS = 20;
    private static final double NORMAL = 1.959964;

    /** Short takes, of 2 to 11 blocks of the observer's 2 s, and a take that is quieter beside a noisy reference. */
    static List<ReferenceCell> all(int sessions) {
        List<Double> two = List.of(0.8, 8.0);
        List<Double> three = List.of(0.7, 2.0, 8.0);
        return List.of(
                new ReferenceCell(StudyCircuit.COIL_200, two, List.of(0.0, 0.0), 5, 30, sessions),
                new ReferenceCell(StudyCircuit.COIL_200, three, List.of(0.0, 0.0, 0.0), 8, 30, sessions),
                new ReferenceCell(StudyCircuit.RIBBON_LEAKY, two, List.of(0.0, 0.0), 12, 30, sessions),
                new ReferenceCell(StudyCircuit.ACTIVE_100, three, List.of(0.0, 0.0, 0.0), 20, 30, sessions),
                new ReferenceCell(StudyCircuit.COIL_200, two, List.of(0.0, -6.0), 30, 30, sessions),
                new ReferenceCell(StudyCircuit.COIL_300, three, List.of(0.0, -6.0, 0.0), 40, 30, sessions),
                new ReferenceCell(StudyCircuit.RIBBON_270, two, List.of(-12.0, 0.0), 20, 30, sessions));
    }

    /** The loads, exactly known. */
    LoadedTakes loads() {
        return new LoadedTakes(
                multiples.stream()
                        .map(m -> Load.ofOhms(m * circuit.nominalOhm(), 0))
                        .toList(),
                InputImpedance.ofOhms(3000, 0, 470, 0));
    }

    /** What is believed about the levels that the reference leaves, and what they are drawn from. */
    Priors priors() {
        return new Priors(DRIFT, 0);
    }

    @Override
    public String name() {
        return String.format(
                Locale.ROOT,
                "%s, %d loads, reference, takes of %.0f s at %s dB, reference %.0f dB",
                circuit.words(),
                multiples.size(),
                seconds,
                String.join(
                        "/",
                        levelsDb.stream()
                                .map(l -> String.format(Locale.ROOT, "%.0f", l))
                                .toList()),
                referenceSnrDb);
    }

    @Override
    public long costOfOne() {
        return 100;
    }

    /**
     * What the cell gave.
     *
     * @param cell the cell
     * @param values number of values
     * @param rejected number of bands without a value
     * @param magnitudeCoverage share of the 95 % intervals of |Z| that hold the truth
     * @param phaseCoverage the same of the phase
     * @param biasPercent mean relative error of |Z| weighted by inverse variance, percent
     * @param errorOverStated root mean square of the error of |Z| over the stated standard uncertainty (U/1.96)
     */
    record Result(
            ReferenceCell cell,
            int values,
            int rejected,
            double magnitudeCoverage,
            double phaseCoverage,
            double biasPercent,
            double errorOverStated) {}

    @Override
    public Result run(Runnable done) {
        FrequencyBands bands = FrequencyBands.within(12, LOWEST_HZ, HIGHEST_HZ);
        int values = 0;
        int rejected = 0;
        int inMagnitude = 0;
        int inPhase = 0;
        double bias = 0;
        double weights = 0;
        double square = 0;
        for (int s = 0; s < sessions; s++) {
            BinObservations obs = observed(takes(s));
            for (BandValue v :
                    new CoherentSolver(bands, priors()).solve(obs, loads()).values()) {
                if (!v.isMeasured()) {
                    rejected++;
                    continue;
                }
                Complex truth = circuit.impedance(v.frequencyHz());
                double error = v.magnitudeOhm() - truth.abs();
                double turn = Math.IEEEremainder(v.phaseRad() - truth.getArgument(), 2 * Math.PI);
                values++;
                inMagnitude += Math.abs(error) <= v.magnitudeU95Ohm() ? 1 : 0;
                inPhase += Math.abs(turn) <= v.phaseU95Rad() ? 1 : 0;
                double weight = Math.pow(truth.abs() / v.magnitudeU95Ohm(), 2);
                weights += weight;
                bias += weight * error / truth.abs();
                square += Math.pow(NORMAL * error / v.magnitudeU95Ohm(), 2);
            }
            done.run();
        }
        return new Result(
                this,
                values,
                rejected,
                (double) inMagnitude / values,
                (double) inPhase / values,
                100 * bias / weights,
                Math.sqrt(square / values));
    }

    private static BinObservations observed(List<TakeRecording> takes) {
        try {
            return new ReferenceObserver(LOWEST_HZ / 1.2, HIGHEST_HZ * 1.1)
                    .observe(takes)
                    .bins();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The takes of session {@code number}. */
    List<TakeRecording> takes(int number) {
        SplittableRandom random = new SplittableRandom(seed(number));
        double[] room = room(random);
        double[] referenceRoom = room(random);
        List<TakeRecording> out = new ArrayList<>();
        for (int k = 0; k < multiples.size(); k++) {
            out.add(take(k, room, referenceRoom, random));
        }
        return out;
    }

    private TakeRecording take(int k, double[] room, double[] referenceRoom, SplittableRandom random) {
        int lead = (int) (LEAD_SECONDS * RATE);
        int sounding = (int) (seconds * RATE);
        double[] sound = new double[lead + sounding + (int) (TAIL_SECONDS * RATE)];
        double level = Math.pow(10, levelsDb.get(k) / 20);
        for (int i = 0; i < sounding; i++) {
            sound[lead + i] = level * random.nextGaussian();
        }
        LoadedTakes loads = loads();
        double gain = Math.exp(priors().gain() * random.nextGaussian());
        double[] reference = heard(sound, referenceRoom);
        double[] microphone = divided(heard(sound, room), loads, k, gain);
        add(reference, Math.pow(10, -referenceSnrDb / 20), random);
        add(microphone, Math.pow(10, -MICROPHONE_SNR_DB / 20), random);
        return new TakeRecording(
                () -> new ArraySource(RATE, microphone, reference),
                0,
                1,
                lead - (int) (0.1 * RATE),
                reference.length,
                floor(microphone, lead),
                floor(reference, lead));
    }

    /** Direct sound and twenty decaying reflections, of power 1. */
    private static double[] room(SplittableRandom random) {
        double[] response = new double[(int) (ROOM_SECONDS * RATE)];
        response[0] = 1;
        double power = 1;
        for (int r = 0; r < REFLECTIONS; r++) {
            int at = 1 + random.nextInt(response.length - 1);
            double size = 0.6 * random.nextGaussian() * Math.exp(-4.0 * at / response.length);
            response[at] += size;
            power += size * size;
        }
        double scale = 1 / Math.sqrt(power);
        Arrays.setAll(response, i -> scale * response[i]);
        return response;
    }

    private static double[] heard(double[] sound, double[] room) {
        double[] out = new double[sound.length];
        for (int d = 0; d < room.length; d++) {
            for (int i = d; room[d] != 0 && i < out.length; i++) {
                out[i] += room[d] * sound[i - d];
            }
        }
        return out;
    }

    private static DoubleUnaryOperator floor(double[] x, int lead) {
        return NoiseFloor.of(Arrays.copyOf(x, lead), RATE)::psd;
    }

    private static void add(double[] x, double sd, SplittableRandom random) {
        for (int i = 0; i < x.length; i++) {
            x[i] += sd * random.nextGaussian();
        }
    }

    private double[] divided(double[] sound, LoadedTakes loads, int k, double gain) {
        int n = Integer.highestOneBit(sound.length) << 1;
        double[] packed = Arrays.copyOf(sound, n);
        DoubleFFT_1D fft = new DoubleFFT_1D(n);
        fft.realForward(packed);
        packed[0] = 0;
        packed[1] = 0;
        for (int i = 1; i < n / 2; i++) {
            double hz = i * RATE / n;
            Complex v = Divider.response(
                            circuit.impedance(hz),
                            Divider.admittance(loads.loads().get(k), loads.input(), hz))
                    .multiply(gain)
                    .multiply(new Complex(packed[2 * i], packed[2 * i + 1]));
            packed[2 * i] = v.getReal();
            packed[2 * i + 1] = v.getImaginary();
        }
        fft.realInverse(packed, true);
        return Arrays.copyOf(packed, sound.length);
    }
}
