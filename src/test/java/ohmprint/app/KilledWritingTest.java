package ohmprint.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.api.io.TempDir;

/**
 * A process killed while it writes: the result is whole or absent, and an earlier one is not lost.
 *
 * <p>What such a process leaves behind are folders named {@code .ohmprint-…} beside the result; they may be deleted once
 * the result stands in its place. When the kill falls between the two renames, the earlier result is in one of them, in
 * {@code old}.
 */
@Tag("process")
class KilledWritingTest {
    /** Large files are hit while being written, small ones while folders are renamed. */
    private static final int[] BYTES = {300_000, 200, 200};

    private static final long ENDLESS = Long.MAX_VALUE;
    private static final int LONGEST_MILLISECONDS = 120;

    @TempDir
    Path dir;

    @RepeatedTest(20)
    void theResultIsWholeOrAbsentAndNeverLost(RepetitionInfo repetition) throws Exception {
        Path target = dir.resolve("result");
        Process writer = new ProcessBuilder(
                        ResultWriter.command(target, BYTES[repetition.getCurrentRepetition() % BYTES.length], ENDLESS))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        try (BufferedReader rounds = writer.inputReader(StandardCharsets.UTF_8)) {
            assertThat(rounds.readLine()).as("the writer has written once").isEqualTo("0");
            Thread.sleep(new Random(repetition.getCurrentRepetition()).nextInt(LONGEST_MILLISECONDS));
            writer.destroyForcibly();
        }
        assertThat(writer.waitFor()).as("killed in its work").isNotZero().isNotEqualTo(ResultWriter.FAILED);
        List<Path> left = entries(dir);
        assertThat(left)
                .allMatch(p -> p.equals(target) || p.getFileName().toString().startsWith(".ohmprint-"), "is known");
        if (Files.exists(target)) {
            assertThat(ResultWriter.whole(target)).as("the result is whole").isTrue();
        } else {
            assertThat(left)
                    .as("the earlier result is at hand")
                    .anySatisfy(p ->
                            assertThat(ResultWriter.whole(p.resolve("old"))).isTrue());
        }
        ResultFolder.check(target);
        ResultFolder.write(target, ResultWriter.files(3, 100));
        assertThat(ResultWriter.whole(target))
                .as("the next measurement can be written")
                .isTrue();
    }

    private static List<Path> entries(Path folder) throws IOException {
        try (Stream<Path> entries = Files.list(folder)) {
            return entries.toList();
        }
    }
}
