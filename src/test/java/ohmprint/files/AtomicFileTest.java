package ohmprint.files;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** Files that appear whole, folders whose files are put back, and what killed programs leave. */
class AtomicFileTest {
    private static final byte[] NEW = "new".getBytes(StandardCharsets.UTF_8);

    @TempDir
    Path dir;

    @Test
    void whatCannotBeWrittenLeavesTheOldFileAndNothingElse() throws Exception {
        Path file = Files.writeString(dir.resolve("sheet.pdf"), "old");
        assertThatThrownBy(() -> AtomicFile.<IOException>replace(file, part -> {
                    Files.writeString(part, "half");
                    throw new IOException("disk full");
                }))
                .hasMessage("disk full");
        assertThat(file).hasContent("old");
        assertThat(names(dir)).containsExactly("sheet.pdf");
    }

    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void aLinkStaysAndWhatItPointsAtIsReplaced() throws Exception {
        Path real = Files.writeString(
                Files.createDirectory(dir.resolve("elsewhere")).resolve("real.pdf"), "old");
        Path link = Files.createSymbolicLink(dir.resolve("sheet.pdf"), Path.of("elsewhere/real.pdf"));
        AtomicFile.replace(link, NEW);
        assertThat(link).isSymbolicLink();
        assertThat(real).hasContent("new");
        assertThat(names(real.getParent())).containsExactly("real.pdf");
    }

    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void othersMayReadItAsAnyNewFile() throws Exception {
        Path usual = Files.writeString(dir.resolve("usual"), "");
        Path file = dir.resolve("sheet.pdf");
        AtomicFile.replace(file, NEW);
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                .isEqualTo(PosixFilePermissions.toString(Files.getPosixFilePermissions(usual)));
    }

    /** The second name is taken when all is written: the first, which was free, must not stay alone. */
    @Test
    void ofFilesThatBelongTogetherAllAppearOrNone() throws Exception {
        List<Path> files = List.of(dir.resolve("result.wav"), dir.resolve("comparison.wav"));
        assertThatThrownBy(() -> AtomicFile.<IOException>createAll(files, parts -> {
                    Files.write(parts.get(0), NEW);
                    Files.write(parts.get(1), NEW);
                    Files.writeString(files.get(1), "of somebody else");
                }))
                .isInstanceOf(FileAlreadyExistsException.class);
        assertThat(files.get(1)).hasContent("of somebody else");
        assertThat(names(dir)).containsExactly("comparison.wav");
        Files.delete(files.get(1));
        AtomicFile.<IOException>createAll(files, parts -> {
            Files.write(parts.get(0), NEW);
            Files.writeString(parts.get(1), "both");
        });
        assertThat(files.get(0)).hasContent("new");
        assertThat(files.get(1)).hasContent("both");
        assertThat(names(dir)).containsExactlyInAnyOrder("result.wav", "comparison.wav");
    }

    /** The other file comes when all is written: the last step has to notice it. */
    @Test
    void aFileThatAppearsAtTheLastMomentIsNotReplaced() throws Exception {
        Path file = dir.resolve("bundle.zip");
        assertThatThrownBy(() -> AtomicFile.<IOException>create(file, part -> {
                    Files.write(part, NEW);
                    Files.writeString(file, "of somebody else");
                }))
                .isInstanceOf(FileAlreadyExistsException.class);
        assertThat(file).hasContent("of somebody else");
        assertThat(names(dir)).containsExactly("bundle.zip");
    }

    @Test
    void aMissingFolderIsNamed() {
        assertThatThrownBy(() -> AtomicFile.replace(dir.resolve("gone/sheet.pdf"), NEW))
                .isInstanceOf(NoSuchFileException.class)
                .hasMessageContaining("gone");
    }

    /** A file on which another one is mounted cannot be renamed over, not even by root. */
    @Test
    @Tag("process")
    @EnabledOnOs(OS.LINUX)
    void filesBeforeTheOneThatCannotBeReplacedArePutBack() throws Exception {
        Path folder = Files.createDirectory(dir.resolve("out"));
        Map<String, byte[]> files = new LinkedHashMap<>();
        for (String name : List.of("a", "b", "c", "d")) {
            files.put(name, NEW);
        }
        Files.writeString(folder.resolve("a"), "old");
        Files.writeString(folder.resolve("c"), "old");
        Path held = folder.resolve("c");
        Assumptions.assumeTrue(runs("mount", "--bind", held.toString(), held.toString()), "only root may mount");
        try {
            assertThatThrownBy(() ->
                            AtomicFolder.at(folder, Set.of("a", "b", "c", "d")).write(files))
                    .isInstanceOf(IOException.class);
        } finally {
            assertThat(runs("umount", held.toString())).isTrue();
        }
        assertThat(names(folder)).containsExactly("a", "c");
        assertThat(folder.resolve("a")).hasContent("old");
        assertThat(held).hasContent("old");
    }

    private static boolean runs(String... command) throws Exception {
        return new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                        .start()
                        .waitFor()
                == 0;
    }

    @Test
    void whatAKilledProgramLeftGoesWhenItIsOldAndNothingElse() throws Exception {
        Path oldFile = aged(Files.writeString(Leftovers.name(dir), "half a sheet"));
        Path newFile = Files.writeString(Leftovers.name(dir), "being written");
        Path oldFolder = Files.createDirectory(Leftovers.name(dir));
        aged(Files.writeString(oldFolder.resolve("session.yaml"), "version: 1"));
        aged(oldFolder);
        Path earlier = Files.createDirectory(dir.resolve(".session-7c9e6679-7425-40de-944b-e07fc1f90ae7"));
        aged(earlier);
        Path busy = Files.createDirectory(Leftovers.name(dir));
        Files.writeString(busy.resolve("take-1.wav"), "being copied");
        aged(busy);
        Path deep = Files.createDirectory(Leftovers.name(dir));
        Files.createDirectory(deep.resolve("old"));
        aged(deep.resolve("old"));
        aged(deep);
        Path theirs = aged(Files.writeString(dir.resolve(".session-notes"), "of a user"));
        Path other = aged(Files.writeString(dir.resolve(".ohmprint-settings"), "of a user"));
        Path outside = Files.createDirectory(dir.resolve("outside"));
        aged(Files.writeString(outside.resolve("kept.txt"), "kept"));
        Leftovers.tidy(dir);
        assertThat(oldFile).doesNotExist();
        assertThat(oldFolder).doesNotExist();
        assertThat(earlier).doesNotExist();
        assertThat(newFile).exists();
        assertThat(busy.resolve("take-1.wav"))
                .as("a folder that is old holds a file that is not")
                .exists();
        assertThat(deep.resolve("old"))
                .as("an earlier version kept earlier results so")
                .exists();
        assertThat(theirs).exists();
        assertThat(other).exists();
        assertThat(outside.resolve("kept.txt")).exists();
        Leftovers.tidy(dir.resolve("not there"));
    }

    private static Path aged(Path path) throws IOException {
        return Files.setLastModifiedTime(path, FileTime.from(Instant.now().minusSeconds(2 * 3600)));
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> entries = Files.list(folder)) {
            return entries.map(p -> p.getFileName().toString()).sorted().toList();
        }
    }
}
