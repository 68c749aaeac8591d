package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.List;
import ohmprint.app.measure.TakeFiles;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Levels that later takes are compared to are those of the recordings that are there. */
class AcceptedTakesTest {
    private static final Path FIXTURE = Path.of("fixtures/sessions/ribbon-shorted-turns");

    @TempDir
    Path dir;

    @Test
    void aRecordingThatWasExchangedIsMeasuredAnewAndTheOthersAreNot() throws Exception {
        for (String file : List.of("session.yaml", "stimulus.wav", "take-1.wav", "take-2.wav")) {
            Path copy = Files.copy(FIXTURE.resolve(file), dir.resolve(file));
            Files.setLastModifiedTime(copy, FileTime.from(Instant.parse("2026-01-02T03:04:05.678Z")));
        }
        Session session = new SessionReader(TakeFiles.probe()).read(dir);
        AcceptedTakes kept = AcceptedTakes.of(session);
        List<AcceptedTakes.KeptTake> before = kept.list();

        Files.copy(FIXTURE.resolve("take-2.wav"), dir.resolve("take-1.wav"), StandardCopyOption.REPLACE_EXISTING);
        kept.replace(session);

        assertThat(kept.list().get(0).levels())
                .as("levels of the take that is another recording now")
                .usingRecursiveComparison()
                .isNotEqualTo(before.get(0).levels())
                .isEqualTo(before.get(1).levels());
        assertThat(kept.list().get(1)).as("the other").isSameAs(before.get(1));
    }
}
