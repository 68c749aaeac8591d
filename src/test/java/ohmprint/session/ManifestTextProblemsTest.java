package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.yaml.ManifestException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Files that are missing, or hold no text that could be a manifest. */
class ManifestTextProblemsTest extends GoodManifest {
    @Test
    void missingManifestIsTold() {
        assertThat(bench.problems()).endsWith("session.yaml: does not exist; give a folder that holds a session.yaml");
    }

    @Test
    void otherEndingOfTheManifestIsNoticed() throws IOException {
        Files.writeString(folder.resolve("session.yml"), GOOD);
        assertThat(bench.problems()).endsWith("does not exist, but session.yml does; rename it to session.yaml");
    }

    @Test
    void missingFolderIsTold() {
        Path nowhere = folder.resolve("nowhere");
        assertThat(catchThrowableOfType(
                        ManifestException.class, () -> bench.reader().read(nowhere)))
                .hasMessage(nowhere + ": does not exist; give a session folder or its manifest");
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            ''                         | session.yaml: is empty; write it anew
            '\\n\\n'                   | session.yaml: is empty; write it anew
            '# nothing else\\n'        | session.yaml: is empty; write it anew
            'just words'               | session.yaml:1: the manifest is 'just words'; write lines of the form key: value
            '- a\\n- b'                | session.yaml:1: the manifest is a list; write lines of the form key: value
            'version: 1\\n\\tnotes: x' | session.yaml:2: is not valid YAML
            'version: 1\\nnotes: [a'   | session.yaml:2: is not valid YAML
            'a: 1\\n---\\nb: 2'        | session.yaml:2: is not valid YAML
            'version: 1\\nnotes: "x\\7"' | session.yaml:2: holds the control character U+0007; remove it
            '? [a, b]\\n: 1'           | session.yaml:1: the manifest has a list or mapping as a key
            """)
    void textThatIsNoManifestIsTold(String text, String problem) throws IOException {
        assertThat(bench.problems(text.translateEscapes())).startsWith(problem);
    }

    @Test
    void aliasesAndTagsAreRefusedSoThatNoTextExpands() throws IOException {
        StringBuilder bomb = new StringBuilder("a0: &a0 [x, x, x]\n");
        for (int i = 1; i < 12; i++) {
            String before = "*a" + (i - 1);
            bomb.append("a").append(i).append(": &a").append(i).append(" [").append(before);
            bomb.append(", ").append(before).append(", ").append(before).append("]\n");
        }
        assertThat(bench.problems(bomb.toString()))
                .startsWith("session.yaml:2: uses the alias *a0; aliases are not read, write the value out");
        assertThat(bench.problems(GOOD.replace("sweep", "!!java.io.File sweep")))
                .startsWith("session.yaml:6: uses the tag tag:yaml.org,2002:java.io.File; tags are not read");
    }

    @Test
    void byteOrderMarkAloneIsAnEmptyFile() throws IOException {
        assertThat(bench.problems("\uFEFF\n")).startsWith("session.yaml: is empty; write it anew");
    }

    @Test
    void deepNestingIsRefused() throws IOException {
        assertThat(bench.problems("notes: " + "[".repeat(100_000)))
                .isEqualTo("session.yaml:1: is nested too deeply; write it with fewer levels");
    }

    @Test
    void hugeFileIsRefused() throws IOException {
        assertThat(bench.problems(GOOD + "#".repeat(1 << 20)))
                .isEqualTo("session.yaml: is larger than 1024 KiB; this is not the text file expected here");
    }

    @Test
    void veryManyProblemsAreCutShort() throws IOException {
        assertThat(bench.problems(GOOD + "x: 1\n".repeat(500)).lines())
                .hasSize(51)
                .last()
                .isEqualTo("and 450 more");
    }

    @Test
    void otherEncodingsAndBinaryFilesAreRefused() throws IOException {
        bench.manifest(GOOD.replace("Bench", "B\u00e4nch").getBytes(StandardCharsets.ISO_8859_1));
        assertThat(bench.problems()).isEqualTo("session.yaml:3: is not UTF-8 text; save it as UTF-8");
        bench.manifest(("\uFEFF" + GOOD).getBytes(StandardCharsets.UTF_16LE));
        assertThat(bench.problems()).isEqualTo("session.yaml:1: is UTF-16 text; save it as UTF-8");
        bench.manifest(new byte[] {'R', 'I', 'F', 'F', 0, 0, 0, 0});
        assertThat(bench.problems()).isEqualTo("session.yaml:1: holds binary data; give the path of a text file");
    }
}
