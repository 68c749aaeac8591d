package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** {@code check} from the words of the user to exit code and output, on the curves of {@code fixtures/check}. */
class CheckCommandTest {
    private static final String SPECIFICATION = "fixtures/check/ribbon-300.yaml";

    private String out = "";
    private String err = "";

    private int run(String... args) {
        StringWriter stdout = new StringWriter();
        StringWriter stderr = new StringWriter();
        int code = Main.run(args, new PrintWriter(stdout), new PrintWriter(stderr));
        out = stdout.toString();
        err = stderr.toString();
        return code;
    }

    @ParameterizedTest
    @CsvSource({"healthy, within, 0", "shorted, outside, 4", "borderline, undecided, 5"})
    void theExitCodeIsTheVerdict(String name, String verdict, int code) throws Exception {
        String curve = "fixtures/check/" + name + ".json";
        assertThat(run("check", curve, "--spec", SPECIFICATION)).isEqualTo(code);
        assertThat(out).contains("verdict     " + verdict, "against     Ribbon, 300 ohm");
        assertThat(out.contains("What may be behind it (common practice")).isEqualTo(code == 4);
        assertThat(run("check", curve, "--spec", SPECIFICATION, "--json")).isEqualTo(code);
        assertThat(new ObjectMapper().readTree(out).get("verdict").asText()).isEqualTo(verdict);
    }

    @Test
    void mistakesAreNamedWithTheNextStep(@TempDir Path folder) throws Exception {
        assertThat(run("check", "fixtures/check/healthy.json")).isEqualTo(2);
        assertThat(err).contains("--spec is missing");
        assertThat(run("check", "fixtures/check/none.json", "--spec", SPECIFICATION))
                .isEqualTo(2);
        assertThat(err).contains("none.json");
        Path wrong = folder.resolve("wrong.yaml");
        Files.writeString(wrong, "version: 1\nrated_impedance: {ohm: 300, tolerance: 20}\n");
        assertThat(run("check", "fixtures/check/healthy.json", "--spec", wrong.toString()))
                .isEqualTo(2);
        assertThat(err).contains("wrong.yaml:2", "tolerance_percent");
        assertThat(out).isEmpty();
    }
}
