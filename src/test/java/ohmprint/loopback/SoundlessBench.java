package ohmprint.loopback;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.ConcurrentHashMap;
import ohmprint.audiodevice.FormatTrial;
import ohmprint.audiodevice.RunReport;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundRun;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.audiodevice.SoundSystem.CaptureSink;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;
import ohmprint.audiodevice.SoundSystem.SoundDevice;
import org.jspecify.annotations.Nullable;

/** The circuit and room of {@link SimulatedBench} without a server and without waiting, and with faults to order. */
public final class SoundlessBench implements SoundSystem {
    /** Its sample rate in hertz. */
    public static final int RATE = SimulatedBench.RATE;

    private static final double NOISE_RMS = 2e-5;
    private static final double LATENCY_SECONDS = 0.237;
    private static final double EXTRA_SECONDS = 0.6;
    private static final double LOUDEST = 1 - 1e-7;

    private static final StreamFilter ROOM = new StreamFilter(RATE, BenchResponses.reflections(new Random(7)));
    private static final Map<Double, StreamFilter> DIVIDERS = new ConcurrentHashMap<>();

    /** The resistor that is fitted, infinite for none. */
    public double ohm = Double.POSITIVE_INFINITY;

    /** Gain of the preamplifier. */
    public double gain = 1;

    /** Level of the loudspeaker. */
    public double volume = 1;

    /** Noise of microphone and preamplifier, relative to what is usual. */
    public double noise = 1;

    /** Samples beyond this are cut off. */
    public double ceiling = LOUDEST;

    /** The device disappears after so many seconds of a run. */
    public double lostAfter = Double.POSITIVE_INFINITY;

    /** Milliseconds of the sound that are left out in its middle. */
    public double gapMillis;

    /** What becomes of samples that were recorded, as {@link #faultMillis} at {@link #faultAt} say. */
    public Fault fault = Fault.NONE;

    /** Length of the fault in milliseconds. */
    public double faultMillis;

    /** Where in the sound it begins, as a share of its length. */
    public double faultAt = 0.75;

    /** What the times of arrival are said to show. */
    public double lostSeconds;

    /** Whether the output is said to have run empty. */
    public boolean ranEmpty;

    /** What can become of samples that were recorded. */
    public enum Fault {
        /** Nothing. */
        NONE,
        /** They are missing. */
        DROPPED,
        /** Zeros stand in their place. */
        ZEROED,
        /** Zeros stand before them. */
        INSERTED
    }

    /** What the device's own format is said to be. */
    public @Nullable DeviceFormat own = new DeviceFormat("bench input", RATE, 2);

    /** What comes of trying a format. */
    public FormatTrial.Verdict verdict = FormatTrial.Verdict.VERIFIED;

    /** Runs that were begun. */
    public final List<SoundRun> runs = new ArrayList<>();

    /** Called in each run after half of the frames. */
    public Runnable halfway = () -> {};

    private final Random random = new Random(11);

    @Override
    public List<SoundDevice> devices() throws SoundException {
        if (own == null) {
            throw new SoundException(SoundException.Reason.NO_SOUND_SYSTEM, "no device");
        }
        return List.of(new SoundDevice("bench input", "a bench that does not exist", true, true));
    }

    @Override
    public Optional<DeviceFormat> ownFormat(@Nullable String device, Direction direction) {
        return Optional.ofNullable(own);
    }

    @Override
    public FormatTrial trial(@Nullable String device, Direction direction, int rate, int channels) {
        FormatTrial.Verdict what = own != null && own.rate() != rate ? FormatTrial.Verdict.CONVERTED : verdict;
        return new FormatTrial(rate, channels, 24, rate, own, what);
    }

    @Override
    public RunReport run(SoundRun run, CaptureSink sink) throws SoundException, IOException {
        runs.add(run);
        double[] sound = run.sound();
        int lead = (int) ((run.leadSeconds() + LATENCY_SECONDS) * RATE);
        int frames = lead + sound.length + (int) ((run.tailSeconds() + EXTRA_SECONDS) * RATE);
        frames += StreamFilter.BLOCK - frames % StreamFilter.BLOCK;
        double[] played = new double[frames];
        int gap = (int) (gapMillis * RATE / 1000);
        int half = sound.length * 3 / 4;
        System.arraycopy(sound, 0, played, lead, half);
        System.arraycopy(sound, half, played, lead + half + gap, sound.length - half);
        StreamFilter room = new StreamFilter(ROOM);
        StreamFilter divider =
                new StreamFilter(DIVIDERS.computeIfAbsent(ohm, r -> new StreamFilter(RATE, BenchResponses.divided(r))));
        double[][] block = new double[run.channels()][];
        boolean told = false;
        for (int at = 0; at < frames; at += StreamFilter.BLOCK) {
            if (at > lostAfter * RATE) {
                throw new SoundException(SoundException.Reason.LOST, "bench input stopped recording; connect it again");
            }
            if (!told && at > frames / 2) {
                told = true;
                halfway.run();
            }
            double[] heard = room.next(Arrays.copyOfRange(played, at, at + StreamFilter.BLOCK));
            block[0] = channel(divider.next(heard), gain * volume, gain);
            for (int c = 1; c < block.length; c++) {
                block[c] = channel(heard, 0.5 * volume, 1);
            }
            if (!pass(block, at - lead - 2 * StreamFilter.DELAY - (int) (faultAt * sound.length), sink)) {
                return new RunReport(at + StreamFilter.BLOCK, 24, ranEmpty, lostSeconds);
            }
        }
        return new RunReport(frames, 24, ranEmpty, lostSeconds);
    }

    /** Hands a block over that begins so many frames after the beginning of the fault. */
    private boolean pass(double[][] block, int after, CaptureSink sink) throws IOException {
        int length = (int) (faultMillis * RATE / 1000);
        int from = Math.max(0, Math.min(StreamFilter.BLOCK, -after));
        int to = Math.max(0, Math.min(StreamFilter.BLOCK, length - after));
        return switch (fault) {
            case NONE -> sink.take(block, StreamFilter.BLOCK);
            case ZEROED -> {
                for (double[] channel : block) {
                    Arrays.fill(channel, from, Math.max(from, to), 0);
                }
                yield sink.take(block, StreamFilter.BLOCK);
            }
            case DROPPED -> take(block, 0, from, sink) && take(block, Math.max(from, to), StreamFilter.BLOCK, sink);
            case INSERTED -> {
                boolean here = after <= 0 && -after < StreamFilter.BLOCK;
                yield take(block, 0, here ? from : StreamFilter.BLOCK, sink)
                        && (!here
                                || (sink.take(new double[block.length][length], length)
                                        && take(block, from, StreamFilter.BLOCK, sink)));
            }
        };
    }

    private static boolean take(double[][] block, int from, int to, CaptureSink sink) throws IOException {
        double[][] part = Arrays.stream(block)
                .map(channel -> Arrays.copyOfRange(channel, from, to))
                .toArray(double[][]::new);
        return from == to || sink.take(part, to - from);
    }

    private double[] channel(double[] volts, double level, double hiss) {
        double[] out = new double[volts.length];
        for (int i = 0; i < out.length; i++) {
            double sample = level * volts[i] + noise * hiss * NOISE_RMS * random.nextGaussian();
            out[i] = Math.max(-ceiling, Math.min(ceiling, sample));
        }
        return out;
    }
}
