package ohmprint.loopback;

import java.io.DataInputStream;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;

/**
 * A bench behind a real sound server: what the server plays goes through a loudspeaker and a room to a microphone with a
 * load across it, and back into the server as the recording. Channel 1 is the microphone under test, channel 2 a monitor
 * microphone that does not feel the load.
 *
 * <p>Channel 1 is {@code (played ∗ room + ambient noise) / (1 + Z·(1/R_load + Y_in))} with white noise and hum of the
 * preamplifier behind it. The response is exact up to {@link StreamFilter}'s length.
 *
 * <p>As a program of its own it takes a folder, starts a server there, prints what to put into the environment, and then
 * obeys lines written to the file {@code control} in it: {@code load 150}, {@code load open}, {@code gain 0.5},
 * {@code volume 1.01}, {@code mute}, {@code quit}. The file {@code status} repeats the line when it has taken effect. Class path: the compiled
 * classes and tests with their libraries.
 */
public final class SimulatedBench implements AutoCloseable {
    /** Sample rate of the server in hertz. */
    public static final int RATE = 48_000;

    /** Resistance of the recording input in ohms. */
    public static final double INPUT_OHM = 3000;

    /** Capacitance of the recording input in picofarads. */
    public static final double INPUT_PF = 470;

    /** The microphone: a coil of 200 Ω with its resonance at 140 Hz. */
    public static final SourceModel COIL =
            new MovingCoil(200, LossyInductor.ofHenries(2e-3), Resonance.ofPeak(90, 140, 1.4));

    private static final double SETTLED_SECONDS = 0.4;
    private static final int FRAME_BYTES = 8;
    private static final double AMBIENT_RMS = 2e-4;
    private static final double PREAMP_RMS = 2e-5;
    private static final double HUM_PEAK = 1e-5;
    private static final double HUM_HZ = 50.02;
    private static final int MOST_SILENCE = 2;
    private static final int MOST_SOUND = 60;
    /** What was held up is made up for at twice the pace, slowly enough for the buffers behind the pipe. */
    private static final long LEAST_NANOS = (long) (0.5e9 * StreamFilter.BLOCK / RATE);

    private static final int WARM_UP_BLOCKS = 60;

    private final SoundServer server;
    private final Random random = new Random(20310504);
    private final StreamFilter room;
    private final StreamFilter monitor;
    private final StreamFilter divider;
    private final BlockingQueue<double[]> played = new LinkedBlockingQueue<>();
    private volatile boolean ended;
    private volatile double gain = 1;
    private volatile double volume = 1;
    private long frames;

    private SimulatedBench(SoundServer server, double ohm) {
        this.server = server;
        this.room = new StreamFilter(RATE, BenchResponses.reflections(new Random(7)));
        this.monitor = new StreamFilter(RATE, BenchResponses.reflections(new Random(8)));
        this.divider = new StreamFilter(RATE, BenchResponses.divided(ohm));
    }

    /** Starts a server and the bench behind it, with a load fitted. */
    public static SimulatedBench start(Path folder, double ohm) throws IOException, InterruptedException {
        StreamFilter warming = new StreamFilter(RATE, BenchResponses.divided(ohm));
        for (int i = 0; i < WARM_UP_BLOCKS; i++) {
            warming.next(new double[StreamFilter.BLOCK]);
        }
        SimulatedBench bench = new SimulatedBench(SoundServer.pipes(folder, RATE), ohm);
        Thread listening = new Thread(bench::listen, "bench hears");
        Thread sounding = new Thread(bench::sound, "bench sounds");
        listening.setDaemon(true);
        sounding.setDaemon(true);
        listening.start();
        sounding.start();
        return bench;
    }

    /** The server. */
    public SoundServer server() {
        return server;
    }

    /** Fits a resistor, infinite for none; returns when what is recorded from now on has passed it. */
    public void fit(double ohm) throws InterruptedException {
        divider.respond(RATE, BenchResponses.divided(ohm));
        settle();
    }

    /** Level of the microphone: 1 as built, 0 silent. */
    public void gain(double factor) throws InterruptedException {
        gain = factor;
        settle();
    }

    /** Level of the loudspeaker: 1 as built. */
    public void volume(double factor) throws InterruptedException {
        volume = factor;
        settle();
    }

    private static void settle() throws InterruptedException {
        Thread.sleep((long) (1000 * SETTLED_SECONDS));
    }

    /** Takes what the server plays as fast as it comes, so that the pipe never fills up. */
    private void listen() {
        byte[] bytes = new byte[StreamFilter.BLOCK * FRAME_BYTES];
        try (DataInputStream in = new DataInputStream(open(server.speaker()))) {
            while (!ended) {
                in.readFully(bytes);
                ByteBuffer buffer = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
                double[] block = new double[StreamFilter.BLOCK];
                for (int i = 0; i < block.length; i++) {
                    block[i] = buffer.getInt(i * FRAME_BYTES) / 0x1p31;
                }
                played.add(block);
            }
        } catch (IOException e) {
            ended = true;
        }
    }

    private static InputStream open(Path pipe) throws IOException {
        return new FileInputStream(pipe.toFile());
    }

    private void sound() {
        ByteBuffer buffer =
                ByteBuffer.allocate(StreamFilter.BLOCK * FRAME_BYTES).order(ByteOrder.LITTLE_ENDIAN);
        try (OutputStream out = new FileOutputStream(server.microphone().toFile())) {
            long written = System.nanoTime();
            while (!ended) {
                double[] block = played.take();
                // The source's pipe has no pace of its own, so what a busy computer has held up would come late for
                // ever:
                // silence is left out at once, sound is made up for.
                while (played.size() > MOST_SOUND || (played.size() > MOST_SILENCE && silent(block))) {
                    block = played.take();
                }
                for (int i = 0; i < block.length; i++) {
                    block[i] *= volume;
                }
                double[] heard = room.next(block);
                for (int i = 0; i < heard.length; i++) {
                    heard[i] += AMBIENT_RMS * random.nextGaussian();
                }
                double[] volts = divider.next(heard);
                double[] reference = monitor.next(block);
                for (int i = 0; i < volts.length; i++, frames++) {
                    double hum = HUM_PEAK * Math.sin(2 * Math.PI * HUM_HZ * frames / RATE);
                    double noise = PREAMP_RMS * random.nextGaussian();
                    buffer.putInt(i * FRAME_BYTES, quantised(gain * (volts[i] + noise + hum)));
                    buffer.putInt(
                            i * FRAME_BYTES + 4, quantised(0.5 * reference[i] + PREAMP_RMS * random.nextGaussian()));
                }
                Thread.sleep(Math.max(0, (LEAST_NANOS - (System.nanoTime() - written)) / 1_000_000));
                out.write(buffer.array());
                written = System.nanoTime();
            }
        } catch (IOException e) {
            ended = true;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static boolean silent(double[] block) {
        return Arrays.stream(block).allMatch(v -> v == 0);
    }

    private static int quantised(double sample) {
        return (int) Math.max(Integer.MIN_VALUE, Math.min(Integer.MAX_VALUE, Math.rint(sample * 0x1p31)));
    }

    @Override
    public void close() {
        ended = true;
        server.close();
    }

    /**
     * Runs until {@code quit}.
     *
     * @param args a folder, and the ohms of the load fitted at first, {@code open} without it
     */
    public static void main(String[] args) throws IOException, InterruptedException {
        Path folder = Files.createDirectories(Path.of(args[0])).toAbsolutePath();
        try (SimulatedBench bench = start(folder, args.length > 1 ? ohms(args[1]) : Double.POSITIVE_INFINITY)) {
            bench.server.environment().forEach((name, value) -> System.out.println(name + "=" + value));
            System.out.flush();
            String last = "";
            while (!last.equals("quit") && !bench.ended) {
                Thread.sleep(50);
                Path control = folder.resolve("control");
                String line = Files.exists(control) ? Files.readString(control).strip() : "";
                if (!line.isEmpty() && !line.equals(last)) {
                    bench.obey(line);
                    Path written = Files.writeString(folder.resolve("status.new"), line + "\n");
                    Files.move(written, folder.resolve("status"), StandardCopyOption.ATOMIC_MOVE);
                    last = line;
                }
            }
        }
        System.exit(0);
    }

    private void obey(String line) throws InterruptedException {
        String[] words = line.toLowerCase(Locale.ROOT).split(" ");
        switch (words[0]) {
            case "load" -> fit(ohms(words[1]));
            case "gain" -> gain(Double.parseDouble(words[1]));
            case "volume" -> volume(Double.parseDouble(words[1]));
            case "mute" -> gain(0);
            case "quit" -> ended = true;
            default -> System.out.println("unknown: " + line);
        }
    }

    private static double ohms(String word) {
        return word.equals("open") ? Double.POSITIVE_INFINITY : Double.parseDouble(word);
    }
}
