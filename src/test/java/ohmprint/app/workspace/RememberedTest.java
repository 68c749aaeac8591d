package ohmprint.app.workspace;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a workspace remembers of its sessions is given up when manifest, takes or result are others. */
@Tag("slow")
class RememberedTest {
    private static final Path FIXTURE = Path.of("fixtures/sessions/ribbon-shorted-turns");

    private static final String TAKE = "take-1.wav";

    @TempDir
    Path dir;

    private Path session;
    private Workspace bench;

    @BeforeEach
    void open() throws Exception {
        session = Files.createDirectory(dir.resolve("unit"));
        try (Stream<Path> files = Files.list(FIXTURE)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Files.copy(file, session.resolve(file.getFileName()));
            }
        }
        bench = Workspace.open(dir, null);
        bench.openSession("unit").measure(new OpenSession.MeasureOptions(3, null, null));
        age();
    }

    @AfterEach
    void close() {
        bench.close();
    }

    /** Nothing is so young that it would be read again for that alone. */
    private void age() throws IOException {
        try (Stream<Path> files = Files.walk(session)) {
            for (Path file : files.toList()) {
                Files.setLastModifiedTime(file, FileTime.from(Instant.parse("2026-01-02T03:04:05.678Z")));
            }
        }
    }

    private SessionList.Line listed() throws IOException {
        return bench.view().sessions().get(0);
    }

    @Test
    void aSessionThatIsAsItWasIsNotReadAgain() throws Exception {
        assertThat(listed()).isSameAs(listed());
    }

    @Test
    void anotherManifestIsRead() throws Exception {
        SessionList.Line before = listed();
        Path manifest = session.resolve("session.yaml");
        Files.writeString(
                manifest, Files.readString(manifest).replace(String.valueOf(before.label()), "Bench ribbon 99"));
        assertThat(listed().label()).isEqualTo("Bench ribbon 99");
        assertThat(listed().changedAt()).isGreaterThan(before.changedAt());
    }

    @Test
    void anotherResultIsRead() throws Exception {
        String before = String.valueOf(listed().verdict());
        Path curve = session.resolve("result/curve.json");
        Files.writeString(
                curve,
                Files.readString(curve).replaceFirst("\"verdict\": \"" + before + "\"", "\"verdict\": \"unusable\""));
        assertThat(listed().verdict()).isEqualTo("unusable").isNotEqualTo(before);
        String whole = Files.readString(curve);
        for (String damaged : new String[] {"{}", "[]", "", whole.substring(0, whole.length() - 9), whole + "{}"}) {
            Files.writeString(curve, damaged);
            assertThat(listed().hasCurve())
                    .as(damaged.substring(0, Math.min(80, damaged.length())))
                    .isFalse();
        }
        Files.writeString(curve, whole.replaceFirst("\"quantity\": \"", "\"quantity\": \"input impedance, not "));
        assertThat(listed().hasCurve()).as("of an input").isFalse();
        Files.delete(curve);
        assertThat(listed().verdict()).isNull();
    }

    @Test
    void aTakeThatIsDamagedOrGoneIsNoticed() throws Exception {
        assertThat(listed().problem()).isNull();
        Path take = session.resolve(TAKE);
        byte[] content = Files.readAllBytes(take);
        content[0] = 'X';
        Files.write(take, content);
        assertThat(listed().problem()).contains(TAKE);
        Files.delete(take);
        assertThat(listed().problem()).contains(TAKE);
    }

    /** The same entry in the manifest, another recording under its name, as large and as old: with some noise. */
    private void exchangeTake() throws IOException {
        Path take = session.resolve(TAKE);
        FileTime time = Files.getLastModifiedTime(take);
        byte[] content = Files.readAllBytes(take);
        for (int i = content.length / 2; i < content.length; i += 2) {
            content[i] ^= 0x10;
        }
        Path other = Files.write(dir.resolve("other.wav"), content);
        Files.move(other, take, StandardCopyOption.REPLACE_EXISTING);
        Files.setLastModifiedTime(take, time);
    }

    @Test
    void anotherRecordingIsHeard() throws Exception {
        Audition.Request form = new Audition.Request(TAKE, 10_000, 0, true);
        byte[] before = bench.openSession("unit").audition(form);
        assertThat(bench.openSession("unit").audition(form)).as("remembered").isSameAs(before);
        exchangeTake();
        assertThat(bench.openSession("unit").audition(form)).isNotEqualTo(before);
    }

    @Test
    void theLinesOfAnotherRecordingAreDrawn() throws Exception {
        String before = bench.openSession("unit").lines(1000, false);
        exchangeTake();
        assertThat(bench.openSession("unit").lines(1000, false)).isNotEqualTo(before);
    }
}
