package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.impedance.FindingCode;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the README promises is what the program has. */
@Tag("slow")
class ReadmeTest {
    private static final Path SESSION = Path.of("fixtures/sessions/ribbon-repaired");

    private static String readme() throws IOException {
        return Files.readString(Path.of("README.md"));
    }

    @Test
    void everyFindingAndEveryOptionIsTold() throws IOException {
        String text = readme();
        assertThat(FindingCode.values()).allSatisfy(code -> assertThat(text).contains("`" + code.word() + "`"));
        assertThat(Commands.all()).allSatisfy(command -> everyOptionIsTold(command, text + pages()));
    }

    private static void everyOptionIsTold(Command command, String text) {
        assertThat(text).contains(command.name());
        assertThat(command.usage().parameters())
                .filteredOn(parameter -> parameter.place() < 0)
                .allSatisfy(option -> assertThat(text).contains(option.name()));
        command.below().forEach(below -> everyOptionIsTold(below, text));
    }

    private static String pages() throws IOException {
        StringBuilder text = new StringBuilder();
        try (var pages = Files.list(Path.of("src/site/markdown"))) {
            for (Path page : pages.filter(Files::isRegularFile).toList()) {
                text.append(Files.readString(page));
            }
        }
        return text.toString();
    }

    @Test
    void everyFileOfAResultIsTold(@TempDir Path here) throws IOException {
        StringWriter out = new StringWriter();
        String folder = here.resolve("demo").toString();
        assertThat(Main.run(new String[] {"demo", "--out", folder}, new PrintWriter(out), new PrintWriter(out)))
                .isZero();
        String text = readme();
        try (var files = Files.list(here.resolve("demo/result"))) {
            assertThat(files.map(file -> file.getFileName().toString()).toList())
                    .isNotEmpty()
                    .allSatisfy(name -> assertThat(text).contains("`" + name + "`"));
        }
        String header =
                Files.readAllLines(here.resolve("demo/result/curve.csv")).get(0);
        assertThat(Arrays.asList(header.split(",")))
                .allSatisfy(column -> assertThat(text).contains("`" + column + "`"));
    }

    @Test
    void theManifestOfTheReadmeIsAccepted(@TempDir Path here) throws IOException {
        Matcher manifest = Pattern.compile("```yaml\n(.*?)```", Pattern.DOTALL).matcher(readme());
        assertThat(manifest.find()).isTrue();
        Files.writeString(here.resolve("session.yaml"), manifest.group(1));
        for (String file : List.of("stimulus.wav", "take-1.wav", "take-2.wav", "take-3.wav")) {
            Files.copy(SESSION.resolve(file), here.resolve(file));
        }
        Files.copy(SESSION.resolve("take-1.wav"), here.resolve("take-4.wav"));
        StringWriter err = new StringWriter();
        int code = Main.run(new String[] {"measure", here.toString()}, new PrintWriter(err), new PrintWriter(err));
        assertThat(code).as(err.toString()).isIn(0, 3);
    }
}
