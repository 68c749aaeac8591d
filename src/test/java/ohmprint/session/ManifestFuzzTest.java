package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.io.ByteArrayOutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Random;
import ohmprint.yaml.ManifestException;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever bytes stand in a manifest, reading ends with a session or with problems in words. */
@Tag("slow")
class ManifestFuzzTest {
    private static final String[] PIECES = {
        ":",
        ": ",
        "- ",
        "\n",
        "\r",
        "\t",
        " ",
        "{",
        "}",
        "[",
        "]",
        ",",
        "\"",
        "'",
        "&a ",
        "*a",
        "!!int ",
        "!",
        "|",
        ">",
        "%YAML 9.9\n",
        "---\n",
        "...\n",
        "#",
        "?",
        "? ",
        "<<: ",
        "~",
        "null",
        "0",
        "-1",
        "1e9999",
        ".inf",
        "\\",
        "\u0085",
        "\u2028",
        "\uFEFF",
        "\uD83C\uDF99",
        "@",
        "`",
        "%",
        "takes:",
        "load_ohm: ",
        "|+9\n",
        "99999999999999999999",
        "\0"
    };

    @TempDir
    Path folder;

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13})
    void mutatedManifestIsReadOrRefused(long seed) throws Exception {
        Bench bench = new Bench(folder).audio("take-1.wav", "take-2.wav", "take-3.wav", "take-4.wav", "stimulus.wav");
        byte[] good = Files.readAllBytes(Path.of("fixtures/session/session-v1.yaml"));
        Random random = new Random(seed);
        int read = 0;
        int refused = 0;
        for (int i = 0; i < 1000; i++) {
            byte[] bytes = good;
            for (int changes = random.nextInt(4); changes >= 0; changes--) {
                bytes = mutate(bytes, random);
            }
            try {
                bench.manifest(bytes).read();
                read++;
            } catch (ManifestException e) {
                assertThat(e.problems()).as("seed %d, step %d", seed, i).isNotEmpty();
                assertThat(e.getMessage().lines()).allMatch(line -> line.matches("session\\.yaml(:\\d+)?: .+|and .*"));
                refused++;
            } catch (RuntimeException | StackOverflowError e) {
                fail("seed " + seed + ", step " + i, e);
            }
        }
        assertThat(read).as("seed %d", seed).isPositive();
        assertThat(refused).as("seed %d", seed).isPositive();
    }

    private static byte[] mutate(byte[] from, Random random) throws Exception {
        int at = random.nextInt(from.length + 1);
        int end = Math.min(from.length, at + random.nextInt(12));
        ByteArrayOutputStream to = new ByteArrayOutputStream();
        to.write(from, 0, at);
        switch (random.nextInt(5)) {
            case 0 -> to.write(from, end, from.length - end);
            case 1 -> {
                to.write(PIECES[random.nextInt(PIECES.length)].getBytes("UTF-8"));
                to.write(from, at, from.length - at);
            }
            case 2 -> {
                to.write(from, at, end - at);
                to.write(from, at, from.length - at);
            }
            case 3 -> {
                to.write(random.nextInt(256));
                to.write(from, end, from.length - end);
            }
            default -> {
                int other = random.nextInt(from.length);
                to.write(from, other, Math.min(30, from.length - other));
                to.write(from, at, from.length - at);
            }
        }
        return to.size() == 0 ? from : to.toByteArray();
    }
}
