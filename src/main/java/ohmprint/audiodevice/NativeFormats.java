package ohmprint.audiodevice;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;
import org.jspecify.annotations.Nullable;

/**
 * Asks the system for the format that a device itself runs with.
 *
 * <p>On Linux a line called {@code default} belongs to the sound server, which the program {@code pactl} asks; the server
 * takes the source and sink that {@code PULSE_SOURCE} and {@code PULSE_SINK} name before its usual ones. A line called
 * {@code hw:C,D} is a device of its own, whose format the kernel shows while it is open. Elsewhere nothing is known.
 */
final class NativeFormats {
    private static final Pattern SERVED = Pattern.compile("(?i).*\\b(default|pulse|pipewire)\\b.*");
    private static final Pattern HARDWARE = Pattern.compile(".*hw:(\\d+),(\\d+).*");
    private static final Pattern SPEC = Pattern.compile("(\\d+)ch (\\d+)Hz");
    private static final Pattern RATE = Pattern.compile("(?m)^rate: (\\d+)");
    private static final Pattern CHANNELS = Pattern.compile("(?m)^channels: (\\d+)");
    private static final long PATIENCE_MILLIS = 2000;
    private static final Path CARDS = Path.of("/proc/asound");

    private NativeFormats() {}

    /** The format behind a line. */
    static Optional<DeviceFormat> of(String name, Direction direction) {
        Matcher hardware = HARDWARE.matcher(name);
        if (hardware.matches()) {
            return ofKernel(CARDS, Integer.parseInt(hardware.group(1)), Integer.parseInt(hardware.group(2)), direction);
        }
        return SERVED.matcher(name).matches() ? ofServer(direction) : Optional.empty();
    }

    private static Optional<DeviceFormat> ofServer(Direction direction) {
        boolean recording = direction == Direction.RECORDING;
        String chosen = System.getenv(recording ? "PULSE_SOURCE" : "PULSE_SINK");
        if (chosen == null || chosen.isEmpty()) {
            List<String> usual = answer(recording ? "get-default-source" : "get-default-sink");
            chosen = usual.isEmpty() ? null : usual.get(0).strip();
        }
        return chosen == null
                ? Optional.empty()
                : inList(answer("list", "short", recording ? "sources" : "sinks"), chosen);
    }

    /** The line of {@code pactl list short} with a name: number, name, module, format, channels, rate, state. */
    static Optional<DeviceFormat> inList(List<String> lines, String name) {
        for (String line : lines) {
            String[] fields = line.split("\t", -1);
            if (fields.length > 3 && fields[1].equals(name)) {
                Matcher spec = SPEC.matcher(fields[3]);
                if (spec.find()) {
                    return Optional.of(
                            new DeviceFormat(name, Integer.parseInt(spec.group(2)), Integer.parseInt(spec.group(1))));
                }
            }
        }
        return Optional.empty();
    }

    private static List<String> answer(String... arguments) {
        @Nullable Process pactl = null;
        try {
            List<String> command = new java.util.ArrayList<>(List.of("pactl"));
            command.addAll(List.of(arguments));
            pactl = new ProcessBuilder(command)
                    .redirectError(ProcessBuilder.Redirect.DISCARD)
                    .start();
            pactl.getOutputStream().close();
            if (!pactl.waitFor(PATIENCE_MILLIS, TimeUnit.MILLISECONDS) || pactl.exitValue() != 0) {
                return List.of();
            }
            try (BufferedReader out = pactl.inputReader(StandardCharsets.UTF_8)) {
                return out.lines().toList();
            }
        } catch (IOException e) {
            return List.of();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return List.of();
        } finally {
            if (pactl != null) {
                pactl.destroyForcibly();
            }
        }
    }

    /** What the kernel shows of a device that is open at this moment. */
    static Optional<DeviceFormat> ofKernel(Path cards, int card, int device, Direction direction) {
        String stream = "pcm" + device + (direction == Direction.RECORDING ? "c" : "p");
        Path file = cards.resolve("card" + card).resolve(stream).resolve("sub0").resolve("hw_params");
        try {
            String text = Files.readString(file);
            Matcher rate = RATE.matcher(text);
            Matcher channels = CHANNELS.matcher(text);
            return rate.find() && channels.find()
                    ? Optional.of(new DeviceFormat(
                            "hw:" + card + "," + device,
                            Integer.parseInt(rate.group(1)),
                            Integer.parseInt(channels.group(1))))
                    : Optional.empty();
        } catch (IOException e) {
            return Optional.empty();
        }
    }
}
