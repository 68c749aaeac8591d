package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import ohmprint.exchange.CurveJson;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A process that adds is killed without warning at a random moment, {@code -Dohmprint.library.kills} times; {@code
 * scripts/stress-library} does it 200 times. Every fifth begins without a library, so that its making is interrupted too.
 */
@Tag("process")
class KilledTest {
    private static final int KILLS = Integer.getInteger("ohmprint.library.kills", 4);
    private static final int RESULTS = 400;

    @Test
    void theLibraryStaysWholeAndEachAddIsWholeOrAbsent(@TempDir Path folder) throws Exception {
        Random random = new Random(20260301);
        Path file = folder.resolve("workshop.db");
        Set<String> safe = new HashSet<>();
        int next = 0;
        int interrupted = 0;
        for (int kill = 0; kill < KILLS; kill++) {
            if (kill % 5 == 4) {
                LibraryFile.deleteAll(file);
                safe.clear();
            }
            List<String> arguments = new ArrayList<>(List.of("library", "add", "--library", file.toString()));
            for (int n = 0; n < RESULTS; n++) {
                arguments.add(ChildProgram.result(folder, (next + n) % (3 * RESULTS)));
            }
            next += RESULTS;
            Path out = folder.resolve("child.out");
            Files.deleteIfExists(out);
            Process child = ChildProgram.start(folder, "child", Map.of(), arguments);
            if (kill % 5 == 4) {
                Thread.sleep(200 + random.nextInt(1500));
            } else {
                while (child.isAlive() && (!Files.exists(out) || Files.size(out) == 0)) {
                    Thread.sleep(2);
                }
                TimeUnit.MICROSECONDS.sleep(random.nextInt(150_000));
            }
            child.destroyForcibly().waitFor();
            interrupted += child.exitValue() == 0 ? 0 : 1;

            List<String> printed = Files.readString(out)
                    .lines()
                    .filter(line -> line.length() == 12)
                    .toList();
            safe.addAll(printed);
            if (!Files.exists(file)) {
                assertThat(safe).isEmpty();
                continue;
            }
            try (CurveLibrary open = CurveLibrary.open(new LibraryFile(file))) {
                LibraryHealth health = open.verify(CurveJson::read);
                assertThat(health.problems()).as("after kill " + kill).isEmpty();
                // what was printed is there, and at most one more, whose line was not yet printed
                assertThat(open.ids(Filter.EVERYTHING)).containsAll(safe);
                assertThat(health.measurements() - safe.size()).isBetween(0, 1);
                safe.addAll(open.ids(Filter.EVERYTHING));
            }
        }
        assertThat(interrupted).isGreaterThan(KILLS / 2);
    }
}
