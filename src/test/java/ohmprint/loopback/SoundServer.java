package ohmprint.loopback;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/**
 * A PulseAudio server of its own for one test, in a folder of its own. Programs started with {@link #environment()} see
 * its sink and source as the only sound device.
 */
public final class SoundServer implements AutoCloseable {
    private static final long PATIENCE_MILLIS = 60_000;

    private final Path folder;
    private final Process process;

    private SoundServer(Path folder, Process process) {
        this.folder = folder;
        this.process = process;
    }

    /** A sink whose monitor is the source: what is played is recorded, bit for bit. */
    public static SoundServer loop(Path folder, int rate, int channels) throws IOException, InterruptedException {
        return start(
                folder,
                List.of("module-null-sink sink_name=loop format=s32le rate=" + rate + " channels=" + channels
                        + map(channels) + " norewinds=1"),
                List.of("set-default-sink", "loop"),
                List.of("set-default-source", "loop.monitor"));
    }

    /** A sink that writes into {@link #speaker()} and a source that reads {@link #microphone()}: 32 bits, two channels. */
    public static SoundServer pipes(Path folder, int rate) throws IOException, InterruptedException {
        Files.createDirectories(folder);
        SoundServer server = start(
                folder,
                List.of(
                        "module-pipe-sink sink_name=speaker file=" + folder.resolve("out.fifo") + " format=s32le rate="
                                + rate + " channels=2" + map(2) + " use_system_clock_for_timing=yes",
                        "module-pipe-source source_name=mic file=" + folder.resolve("in.fifo") + " format=s32le rate="
                                + rate + " channels=2" + map(2)),
                List.of("set-default-sink", "speaker"),
                List.of("set-default-source", "mic"));
        // A source that nobody listens to does not read its pipe; a device of hardware runs on all the same.
        ProcessBuilder listener = new ProcessBuilder("parec", "--raw", "--format=s32le", "--channels=2", "-d", "mic");
        listener.environment().putAll(server.environment());
        listener.redirectOutput(ProcessBuilder.Redirect.DISCARD).redirectError(ProcessBuilder.Redirect.DISCARD);
        listener.start();
        return server;
    }

    private static String map(int channels) {
        return " channel_map=" + (channels == 1 ? "mono" : "front-left,front-right");
    }

    @SafeVarargs
    private static SoundServer start(Path folder, List<String> modules, List<String>... commands)
            throws IOException, InterruptedException {
        Files.createDirectories(folder);
        List<String> command = new ArrayList<>(List.of(
                "pulseaudio",
                "-n",
                "--daemonize=no",
                "--use-pid-file=no",
                "--exit-idle-time=-1",
                "--disable-shm=yes",
                "--realtime=no",
                "--high-priority=no",
                "--log-target=stderr",
                "--log-level=error"));
        command.add("-L");
        command.add("module-native-protocol-unix auth-anonymous=1 socket=" + folder.resolve("native"));
        for (String module : modules) {
            command.add("-L");
            command.add(module);
        }
        ProcessBuilder builder = new ProcessBuilder(command);
        builder.environment().putAll(environment(folder));
        builder.redirectErrorStream(true)
                .redirectOutput(folder.resolve("server.log").toFile());
        SoundServer server = new SoundServer(folder, builder.start());
        try {
            for (List<String> one : commands) {
                server.control(one);
            }
            return server;
        } catch (IOException | InterruptedException | RuntimeException e) {
            server.close();
            throw e;
        }
    }

    /** Runs a command of {@code pactl} against the server, again until it answers. */
    private void control(List<String> arguments) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of("pactl"));
        command.addAll(arguments);
        long end = System.nanoTime() + PATIENCE_MILLIS * 1_000_000;
        while (process.isAlive() && System.nanoTime() < end) {
            ProcessBuilder builder = new ProcessBuilder(command)
                    .redirectError(ProcessBuilder.Redirect.DISCARD)
                    .redirectOutput(ProcessBuilder.Redirect.DISCARD);
            builder.environment().putAll(environment());
            if (builder.start().waitFor() == 0) {
                return;
            }
            Thread.sleep(50);
        }
        throw new IOException("the sound server does not answer: " + Files.readString(folder.resolve("server.log")));
    }

    /** What a program needs in its environment to see this server. */
    public Map<String, String> environment() {
        return environment(folder);
    }

    private static Map<String, String> environment(Path folder) {
        return Map.of(
                "PULSE_RUNTIME_PATH", folder.toString(),
                "PULSE_STATE_PATH", folder.toString(),
                "PULSE_COOKIE", folder.resolve("cookie").toString(),
                "PULSE_SERVER", "unix:" + folder.resolve("native"));
    }

    /** The pipe into which the sink writes. */
    public Path speaker() {
        return folder.resolve("out.fifo");
    }

    /** The pipe from which the source reads. */
    public Path microphone() {
        return folder.resolve("in.fifo");
    }

    /** Ends the server as a power cut would. */
    public void kill() {
        process.destroyForcibly().onExit().join();
    }

    @Override
    public void close() {
        process.destroy();
        try {
            process.onExit().get(3, TimeUnit.SECONDS);
        } catch (InterruptedException | ExecutionException | TimeoutException e) {
            kill();
        }
    }
}
