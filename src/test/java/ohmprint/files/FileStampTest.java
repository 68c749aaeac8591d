package ohmprint.files;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** What was read of files is right as long as they look the same; each way in which they can differ is seen. */
class FileStampTest {
    private static final int DEEPEST = 3;

    @TempDir
    Path dir;

    private Path take;

    @BeforeEach
    void fill() throws Exception {
        take = aged(Files.writeString(dir.resolve("take-1.wav"), "0123456789"));
        aged(Files.writeString(Files.createDirectory(dir.resolve("result")).resolve("curve.json"), "{}"));
    }

    private static Path aged(Path file) throws IOException {
        return Files.setLastModifiedTime(file, FileTime.from(Instant.parse("2026-01-02T03:04:05.678Z")));
    }

    private FileStamp all() throws IOException {
        return FileStamp.ofAllIn(dir, DEEPEST);
    }

    private interface Change {
        void make() throws IOException;
    }

    private void assertSeen(Change change) throws IOException {
        FileStamp before = all();
        FileStamp alone = FileStamp.of(List.of(take));
        change.make();
        assertThat(before.holds(all())).as("in the folder").isFalse();
        assertThat(alone.holds(FileStamp.of(List.of(take)))).as("alone").isFalse();
    }

    @Test
    void filesThatLookTheSameAreTheSame() throws Exception {
        assertThat(all().holds(all())).isTrue();
        assertThat(FileStamp.of(List.of(take)).holds(FileStamp.of(List.of(take))))
                .isTrue();
        FileStamp before = all();
        Files.createDirectory(dir.resolve("empty"));
        assertThat(before.holds(all())).as("a folder without files").isTrue();
    }

    @Test
    void anotherSizeIsSeenThoughTheTimeIsTheSame() throws Exception {
        assertSeen(() -> aged(Files.writeString(take, "01234567890")));
    }

    @Test
    void anotherTimeIsSeenThoughTheSizeIsTheSame() throws Exception {
        assertSeen(() -> Files.writeString(take, "9876543210"));
    }

    /** As copying programs do that keep times. */
    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void anotherFileIsSeenThoughSizeAndTimeAreTheSame() throws Exception {
        assertSeen(() -> {
            Path other = aged(Files.writeString(dir.resolve("other"), "9876543210"));
            Files.move(other, take, StandardCopyOption.REPLACE_EXISTING);
        });
    }

    @Test
    void aFileThatHasGoneIsSeen() throws Exception {
        assertSeen(() -> Files.delete(take));
    }

    @Test
    void aFileThatHasComeOrHasAnotherNameIsSeen() throws Exception {
        FileStamp before = all();
        Path more = aged(Files.writeString(dir.resolve("result/curve.csv"), ""));
        FileStamp after = all();
        assertThat(before.holds(after)).isFalse();
        Files.move(more, dir.resolve("result/lines.svg"));
        assertThat(after.holds(all())).isFalse();
    }

    @Test
    void whatWasReadOfAFileThatIsBeingWrittenIsNotBelievedTwice() throws Exception {
        Files.writeString(take, "9876543210");
        FileStamp young = all();
        assertThat(young.holds(all())).isFalse();
        // A file system whose times are whole seconds.
        Files.setLastModifiedTime(
                take, FileTime.from(Instant.ofEpochSecond(Instant.now().getEpochSecond() - 1)));
        assertThat(all().holds(all())).isFalse();
    }

    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void whereALinkMayLeadAnywhereNothingIsBelieved() throws Exception {
        Files.createSymbolicLink(dir.resolve("link.wav"), take);
        assertThat(all().holds(all())).isFalse();
    }

    @Test
    void whatLiesTooDeepToBeLookedAtIsNotTakenForTheSame() throws Exception {
        Path deep = Files.createDirectories(dir.resolve("a/b/c"));
        aged(Files.writeString(deep.resolve("d"), "x"));
        assertThat(all().holds(all())).isFalse();
    }
}
