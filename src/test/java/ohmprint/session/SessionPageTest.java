package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The examples of the page about sessions are what the reader reads. */
class SessionPageTest {
    @TempDir
    Path folder;

    @Test
    void examplesOfThePageAreRead() throws Exception {
        Bench bench = new Bench(folder).audio("take-1.wav", "take-2.wav", "take-3.wav", "take-4.wav", "stimulus.wav");
        List<String> examples = Pattern.compile("```yaml\n(.*?)```", Pattern.DOTALL)
                .matcher(Files.readString(Path.of("src/site/markdown/session.md")))
                .results()
                .map((MatchResult m) -> m.group(1))
                .toList();
        assertThat(examples).hasSize(2);
        assertThat(bench.manifest(examples.get(0)).read().takes()).hasSize(2);
        Session all = bench.manifest(examples.get(1)).read();
        assertThat(all).isEqualTo(bench.reader().read(copyOfTheFixture()));
    }

    private Path copyOfTheFixture() throws Exception {
        return Files.copy(Path.of("fixtures/session/session-v1.yaml"), folder.resolve("fixture.yaml"));
    }
}
