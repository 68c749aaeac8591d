package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;

/**
 * A process killed while it writes: no file is missing or cut short, and the last one is never newer than the others.
 *
 * <p>What such a process leaves behind are names {@code .ohmprint…} in the folder and beside it, which the next one removes.
 */
@Tag("process")
class KilledWritingTest {
    /** Large files are hit while being written, small ones while they are put in place. */
    private static final int[] BYTES = {300_000, 200, 200};

    private static final long ENDLESS = Long.MAX_VALUE;
    private static final int LONGEST_MILLISECONDS = 120;

    @TempDir
    Path dir;

    @RepeatedTest(36)
    void noFileIsMissingOrCutShort(RepetitionInfo repetition) throws Exception {
        Path target = dir.resolve("result");
        int bytes = BYTES[repetition.getCurrentRepetition() % BYTES.length];
        Process writer = new ProcessBuilder(ResultWriter.command(target, bytes, ENDLESS))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        try (BufferedReader rounds = writer.inputReader(StandardCharsets.UTF_8)) {
            assertThat(rounds.readLine()).as("the writer has written once").isEqualTo("0");
            Thread.sleep(new Random(repetition.getCurrentRepetition()).nextInt(LONGEST_MILLISECONDS));
            writer.destroyForcibly();
        }
        assertThat(writer.waitFor()).as("killed in its work").isNotZero().isNotEqualTo(ResultWriter.FAILED);
        List<Integer> rounds = new ArrayList<>();
        for (String name : ResultWriter.NAMES) {
            byte[] content = Files.readAllBytes(target.resolve(name));
            assertThat(content).as(name).hasSize(bytes).containsOnly(content[0]);
            rounds.add((int) content[0]);
        }
        int behind = 0;
        for (int i = 1; i < rounds.size(); i++) {
            behind += Math.floorMod(rounds.get(i - 1) - rounds.get(i), 26);
        }
        assertThat(behind)
                .as("rounds of the files in the order of writing %s", rounds)
                .isBetween(0, 1);
        assertThat(names(dir)).as("nothing beside it").containsExactly("result");
        assertThat(names(target))
                .allMatch(n -> ResultWriter.NAMES.contains(n) || n.startsWith(".ohmprint"), "is known");

        ResultWriter.write(target, ResultWriter.files(3, 100));
        assertThat(ResultWriter.whole(target))
                .as("the next measurement makes it whole and leaves nothing else")
                .isTrue();
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> entries = Files.list(folder)) {
            return entries.map(p -> p.getFileName().toString()).toList();
        }
    }
}
