package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A folder of results appears whole or not at all, and never in place of something else. */
class ResultFolderTest {
    /** A file size limit of the operating system, in blocks of 512 bytes: no write reaches further, as on a full disk. */
    private static final int MOST_BLOCKS = 64;

    @TempDir
    Path dir;

    @ParameterizedTest
    @ValueSource(strings = {"notes.txt", "curve.csv.bak", "Curve.csv", ".hidden"})
    void aFolderThatHoldsAStrangerIsNotTouched(String stranger) throws Exception {
        Path out = Files.createDirectories(dir.resolve("out"));
        Files.writeString(out.resolve(stranger), "mine");
        Files.writeString(out.resolve("curve.csv"), "an earlier curve");
        assertThatThrownBy(() -> measureInto(out))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining(stranger);
        assertThat(names(out)).containsExactlyInAnyOrder(stranger, "curve.csv");
        assertThat(out.resolve(stranger)).hasContent("mine");
        assertThat(out.resolve("curve.csv")).hasContent("an earlier curve");
        assertThat(names(dir)).containsExactly("out");
    }

    @Test
    void theSessionFolderItselfIsNoPlaceForResults() throws Exception {
        TakeFolder session = TakeFolder.copyOf("ribbon-shorted-turns", dir);
        List<String> before = names(session.folder);
        MeasureRequest all = MeasureRequest.of(session.folder);
        assertThatThrownBy(() -> TakeFolder.measure(new MeasureRequest(
                        session.folder, session.folder, null, null, all.fromHz(), all.toHz(), false)))
                .isInstanceOf(BadInputException.class);
        assertThat(names(session.folder)).isEqualTo(before);
    }

    @Test
    void aFileInTheWayIsBadInput() throws Exception {
        Path out = Files.writeString(dir.resolve("out"), "a file");
        assertThatThrownBy(() -> measureInto(out))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("out");
        assertThat(out).hasContent("a file");
    }

    @Test
    void anEarlierResultIsReplacedWhole() throws Exception {
        Path out = dir.resolve("out");
        MeasureOutcome first = measureInto(out);
        Files.writeString(out.resolve("curve.csv"), "an earlier curve");
        Files.delete(out.resolve("curve.svg"));
        MeasureOutcome second = measureInto(out);
        assertThat(names(out)).containsExactlyInAnyOrderElementsOf(second.files());
        assertThat(second.files()).isEqualTo(first.files());
        assertThat(Files.readString(out.resolve("curve.csv"))).startsWith("frequency_hz,");
        assertThat(names(dir)).containsExactly("out");
    }

    @Test
    void foldersAboveAreMadeWhenMissing() throws Exception {
        Path out = dir.resolve("a/b/out");
        measureInto(out);
        assertThat(out.resolve("curve.csv")).exists();
        assertThat(names(dir.resolve("a/b"))).containsExactly("out");
    }

    @Test
    void aFileAboveTheTargetIsAnErrorThatNamesTheTarget() throws Exception {
        Path file = Files.writeString(dir.resolve("file"), "a file");
        Path out = file.resolve("out");
        assertThatThrownBy(() -> measureInto(out))
                .isInstanceOfAny(IOException.class, BadInputException.class)
                .hasMessageContaining(out.toString());
        assertThat(file).hasContent("a file");
        assertThat(names(dir)).containsExactly("file");
    }

    /** Nobody, not even root, may make a folder in the kernel's list of processes. */
    @Test
    @EnabledOnOs(OS.LINUX)
    void aParentThatCannotBeWrittenIsAnErrorThatNamesTheTarget() {
        Path out = Path.of("/proc/ohmprint-result");
        assertThatThrownBy(() -> measureInto(out))
                .isInstanceOf(IOException.class)
                .hasMessageContaining(out.toString());
        assertThat(out).doesNotExist();
    }

    @Tag("process")
    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void aDiskThatFillsUpLeavesTheEarlierResultAndNothingElse() throws Exception {
        Path target = dir.resolve("out");
        ResultWriter.write(target, ResultWriter.files(1, 1000));
        assertThat(writeWithLimit(target, 4 * MOST_BLOCKS * 512)).isEqualTo(ResultWriter.FAILED);
        assertThat(ResultWriter.whole(target)).isTrue();
        assertThat(target.resolve("curve.csv")).hasSize(1000);
        assertThat(names(dir)).containsExactly("out");
    }

    @Tag("process")
    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void aDiskThatFillsUpLeavesNoFolderWhereThereWasNone() throws Exception {
        Path target = dir.resolve("a/b/out");
        assertThat(writeWithLimit(target, 4 * MOST_BLOCKS * 512)).isEqualTo(ResultWriter.FAILED);
        assertThat(names(dir)).isEmpty();
    }

    /** The same program with files that fit: the failures above are those of the limit. */
    @Tag("process")
    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void whatFitsIsWritten() throws Exception {
        Path target = dir.resolve("out");
        assertThat(writeWithLimit(target, MOST_BLOCKS * 512 / 2)).isZero();
        assertThat(ResultWriter.whole(target)).isTrue();
    }

    private static int writeWithLimit(Path target, int bytes) throws Exception {
        Process limited = new ProcessBuilder(Stream.concat(
                                Stream.of("sh", "-c", "ulimit -f " + MOST_BLOCKS + "; exec \"$@\"", "sh"),
                                ResultWriter.command(target, bytes, 1).stream())
                        .toList())
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();
        return limited.waitFor();
    }

    private static MeasureOutcome measureInto(Path out) throws IOException, BadInputException {
        MeasureRequest all = MeasureRequest.of(TakeFolder.FIXTURES.resolve("ribbon-shorted-turns"));
        return TakeFolder.measure(new MeasureRequest(all.session(), out, 3, null, all.fromHz(), all.toHz(), false));
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> entries = Files.list(folder)) {
            return entries.map(p -> p.getFileName().toString()).sorted().toList();
        }
    }
}
