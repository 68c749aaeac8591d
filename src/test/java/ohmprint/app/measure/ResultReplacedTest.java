package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.NamedCurve;
import ohmprint.files.Leftovers;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** What happens to a folder of results, and to what others do there, while a measurement runs. */
@Tag("slow")
class ResultReplacedTest {
    private static final int PATIENCE_SECONDS = 120;

    @TempDir
    Path dir;

    /** Something that happens when all is computed and nothing is written yet. */
    private interface Meanwhile {
        void happens() throws IOException;
    }

    private static MeasureOutcome measure(Path session, Path out, Meanwhile meanwhile)
            throws IOException, BadInputException {
        MeasureRequest all = MeasureRequest.of(session);
        return MeasureSession.run(
                new MeasureRequest(session, out, 3, null, all.fromHz(), all.toHz(), false), (what, share) -> {
                    if (what.equals("drawing")) {
                        try {
                            meanwhile.happens();
                        } catch (IOException e) {
                            throw new java.io.UncheckedIOException(e);
                        }
                    }
                });
    }

    private static Path fixture() {
        return TakeFolder.FIXTURES.resolve("ribbon-shorted-turns");
    }

    @Test
    void aFileThatAppearsMeanwhileStays() throws Exception {
        Path out = dir.resolve("out");
        measure(fixture(), out, () -> {});
        MeasureOutcome outcome =
                measure(fixture(), out, () -> Files.writeString(out.resolve("notes.txt"), "of this afternoon"));
        assertThat(out.resolve("notes.txt")).hasContent("of this afternoon");
        List<String> expected = new ArrayList<>(outcome.files());
        expected.add("notes.txt");
        assertThat(names(out)).containsExactlyInAnyOrderElementsOf(expected);
    }

    @Test
    void aFileOfAResultThatAppearsMeanwhileAndIsNotWrittenStays() throws Exception {
        Path out = dir.resolve("out");
        ResultFolder folder = ResultFiles.folder(out);
        Files.createDirectories(out);
        Files.writeString(out.resolve("lines.svg"), "a drawing of somebody");
        folder.write(Map.of("curve.csv", new byte[] {1}));
        assertThat(out.resolve("lines.svg")).hasContent("a drawing of somebody");
        ResultFiles.folder(out).write(Map.of("curve.csv", new byte[] {2}));
        assertThat(names(out)).as("a picture of the earlier result").containsExactly("curve.csv");
    }

    @Test
    void aFolderNamedLikeAResultIsRefusedAtOnce() throws Exception {
        Path out = dir.resolve("out");
        Path inside = Files.createDirectories(out.resolve("curve.svg")).resolve("mine.txt");
        Files.writeString(inside, "mine");
        assertThatThrownBy(() -> measure(fixture(), out, () -> {
                    throw new IOException("it was measured all the same");
                }))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("curve.svg")
                .hasMessageContaining("folder");
        assertThat(inside).hasContent("mine");
        assertThat(names(out)).containsExactly("curve.svg");
    }

    @Test
    void aFolderNamedLikeAResultThatAppearsMeanwhileStopsTheWritingBeforeItBegins() throws Exception {
        Path out = dir.resolve("out");
        Files.createDirectories(out);
        Files.writeString(out.resolve("curve.csv"), "an earlier curve");
        Path inside = out.resolve("curve.json").resolve("mine.txt");
        assertThatThrownBy(() -> measure(fixture(), out, () -> {
                    Files.createDirectories(inside.getParent());
                    Files.writeString(inside, "mine");
                }))
                .isInstanceOf(IOException.class)
                .hasMessageContaining("curve.json")
                .hasMessageContaining("move it elsewhere");
        assertThat(inside).hasContent("mine");
        assertThat(out.resolve("curve.csv")).hasContent("an earlier curve");
        assertThat(names(out)).containsExactlyInAnyOrder("curve.csv", "curve.json");
    }

    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void aLinkStaysAndWhatItPointsAtGetsTheFiles() throws Exception {
        Path real = Files.createDirectories(dir.resolve("elsewhere/real"));
        Files.writeString(real.resolve("curve.csv"), "an earlier curve");
        Path link = Files.createSymbolicLink(dir.resolve("out"), Path.of("elsewhere/real"));
        MeasureOutcome outcome = measure(fixture(), link, () -> {});
        assertThat(link).isSymbolicLink();
        assertThat(names(real)).containsExactlyInAnyOrderElementsOf(outcome.files());
        assertThat(real.resolve("curve.csv")).content().startsWith("frequency_hz,");
    }

    @Test
    @EnabledOnOs({OS.LINUX, OS.MAC})
    void aLinkToAFolderThatIsNotThereStaysAndTheFolderAppears() throws Exception {
        Path link = Files.createSymbolicLink(dir.resolve("out"), Path.of("elsewhere/real"));
        MeasureOutcome outcome = measure(fixture(), link, () -> {});
        assertThat(link).isSymbolicLink();
        assertThat(names(dir.resolve("elsewhere/real"))).containsExactlyInAnyOrderElementsOf(outcome.files());
    }

    @Test
    void aSessionThatWasDeletedMeanwhileDoesNotComeBack() throws Exception {
        TakeFolder session = TakeFolder.copyOf("ribbon-shorted-turns", dir);
        assertThatThrownBy(() -> measure(session.folder, null, () -> Leftovers.remove(session.folder)))
                .isInstanceOf(IOException.class)
                .hasMessageContaining(session.folder.toString())
                .hasMessageContaining("removed meanwhile");
        assertThat(session.folder).doesNotExist();
    }

    @Test
    void aResultThatWasDeletedMeanwhileIsWrittenAnew() throws Exception {
        Path out = dir.resolve("out");
        measure(fixture(), out, () -> {});
        MeasureOutcome outcome = measure(fixture(), out, () -> Leftovers.remove(out));
        assertThat(names(out)).containsExactlyInAnyOrderElementsOf(outcome.files());
    }

    /** The digests are computed here from the bytes on the disk. */
    @Test
    void theCurveTellsWhichFilesLieBesideIt() throws Exception {
        Path out = dir.resolve("out");
        MeasureOutcome outcome = measure(fixture(), out, () -> {});
        JsonNode files =
                new JsonMapper().readTree(out.resolve("curve.json").toFile()).path("files");
        List<String> told = new ArrayList<>();
        for (Iterator<String> names = files.fieldNames(); names.hasNext(); ) {
            String name = names.next();
            told.add(name);
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(Files.readAllBytes(out.resolve(name)));
            assertThat(files.get(name).textValue())
                    .as(name)
                    .isEqualTo(HexFormat.of().formatHex(digest));
        }
        told.add("curve.json");
        assertThat(told).containsExactlyInAnyOrderElementsOf(outcome.files());
        assertThat(NamedCurve.of(out.toString()).measurement().microphone())
                .as("it is read all the same")
                .isEqualTo(outcome.measurement().microphone());
    }

    @Test
    void readersNeverMissAFileNorTakeAMixtureForAResult() throws Exception {
        Path target = dir.resolve("result");
        ResultWriter.write(target, ResultWriter.files(0, 5000));
        CompletableFuture<Void> writing = CompletableFuture.runAsync(() -> {
            for (int round = 1; round <= 400; round++) {
                try {
                    ResultWriter.write(target, ResultWriter.files(round, 5000));
                } catch (IOException | BadInputException e) {
                    throw new IllegalStateException(e);
                }
            }
        });
        int looked = 0;
        int alike = 0;
        while (!writing.isDone()) {
            // As a reader does who reads what tells of the others first, then those, then the first again.
            byte before = whole(target.resolve("curve.json"));
            boolean same = true;
            for (String name : ResultWriter.NAMES) {
                same &= whole(target.resolve(name)) == before;
            }
            looked++;
            alike += same ? 1 : 0;
        }
        finished(writing);
        assertThat(looked).as("looks").isGreaterThan(20);
        assertThat(alike).as("whole results among %d looks", looked).isPositive();
        assertThat(ResultWriter.whole(target)).isTrue();
    }

    private static byte whole(Path file) throws IOException {
        byte[] content = Files.readAllBytes(file);
        assertThat(content).as(file.toString()).hasSize(5000).containsOnly(content[0]);
        return content[0];
    }

    @Test
    void twoThreadsTakeTurns() throws Exception {
        Path target = dir.resolve("result");
        List<CompletableFuture<Void>> both = Stream.of(1, 2)
                .map(i -> CompletableFuture.runAsync(() -> {
                    for (int round = 0; round < 150; round++) {
                        try {
                            ResultWriter.write(target, ResultWriter.files(round, 300));
                        } catch (IOException | BadInputException e) {
                            throw new IllegalStateException(e);
                        }
                    }
                }))
                .toList();
        for (CompletableFuture<Void> one : both) {
            finished(one);
        }
        assertThat(ResultWriter.whole(target)).isTrue();
    }

    @Test
    @Tag("process")
    void twoProgramsTakeTurns() throws Exception {
        Path target = dir.resolve("result");
        List<Process> both = new ArrayList<>();
        for (int i = 0; i < 2; i++) {
            both.add(new ProcessBuilder(ResultWriter.command(target, 300, 300))
                    .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                    .redirectError(ProcessBuilder.Redirect.INHERIT)
                    .start());
        }
        for (Process one : both) {
            assertThat(one.waitFor(PATIENCE_SECONDS, TimeUnit.SECONDS)).isTrue();
            assertThat(one.exitValue()).isZero();
        }
        assertThat(ResultWriter.whole(target)).isTrue();
        assertThat(names(dir)).containsExactly("result");
    }

    private static void finished(CompletableFuture<Void> work) throws Exception {
        try {
            work.get(PATIENCE_SECONDS, TimeUnit.SECONDS);
        } catch (ExecutionException e) {
            throw new AssertionError("a writer failed", e.getCause());
        }
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> entries = Files.list(folder)) {
            return entries.map(p -> p.getFileName().toString()).sorted().toList();
        }
    }
}
