package ohmprint.loopback;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.io.TempDir;

/** The program {@code record} in a process of its own, waited for at what it writes. */
abstract class RecordingProgram {
    @TempDir
    Path dir;

    Program record(SimulatedBench bench, String loads, String... more) throws IOException {
        String[] all = Stream.concat(
                        Stream.of(
                                "record",
                                "session",
                                "--yes",
                                "--json",
                                "--label",
                                "Bench coil 4",
                                "--rated",
                                "200",
                                "--input",
                                "3000",
                                "--input-tolerance",
                                "0.1",
                                "--input-pf",
                                "470",
                                "--tolerance",
                                "0.02",
                                "--seconds",
                                "2",
                                "--lead",
                                "0.7",
                                "--tail",
                                "0.4",
                                "--loads",
                                loads),
                        Stream.of(more))
                .toArray(String[]::new);
        return Program.ohmprint(bench.server().environment(), dir, all);
    }

    static void waitFor(Path file, long bytes) throws Exception {
        long end = System.nanoTime() + 90_000_000_000L;
        while (!Files.exists(file) || Files.size(file) < bytes) {
            assertThat(System.nanoTime()).as("%s does not grow", file).isLessThan(end);
            Thread.sleep(10);
        }
    }
}
