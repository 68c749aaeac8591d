package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.audition.AuditionOutcome;
import ohmprint.app.audition.AuditionRequest;
import ohmprint.circuit.Load;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The command {@code audition} as a user or a script meets it; the use case answers as told. */
class AuditionCommandTest {
    private static final AuditionOutcome OUTCOME = new AuditionOutcome(
            "Bench ribbon 7",
            "150 Ω, input 3000 Ω",
            "open, input 3000 Ω",
            20.5,
            19_387,
            List.of(new AuditionOutcome.Change(20.5, 3.25, 0.1), new AuditionOutcome.Change(1000, 9.014, 0.021)),
            8.75,
            0,
            2.5,
            -0.1,
            Path.of("open.wav"),
            Path.of("open-ab.wav"),
            List.of(1.25, 8.0),
            4,
            List.of("Outside nothing is claimed."));

    private AuditionRequest asked;
    private String stdout = "";
    private String stderr = "";

    private int run(String line) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Command command = new AuditionCommand((request, progress) -> {
            asked = request;
            return OUTCOME;
        });
        Environment around = new Environment(Path.of(""), false, 80, false, "0.0.7");
        int code = new Shell(List.of(command), new Console(around, new PrintWriter(out), new PrintWriter(err)))
                .run(line.split(" "));
        stdout = out.toString();
        stderr = err.toString();
        return code;
    }

    @Test
    void everyOptionReachesTheUseCase() {
        assertThat(run(
                        "audition take.wav --curve result --from 150 --to open --input 3000 --input-pf 470 --to-input 1500"
                                + " --to-input-pf 100 --channel 2 --level-matched --out x/new.wav --ab y.wav"))
                .isZero();
        assertThat(asked)
                .isEqualTo(new AuditionRequest(
                        Path.of("take.wav"),
                        "result",
                        new AuditionRequest.Side(Load.ofOhms(150, 0), 3000.0, 470),
                        new AuditionRequest.Side(Load.open(), 1500.0, 100),
                        2,
                        true,
                        Path.of("x/new.wav"),
                        Path.of("y.wav")));
    }

    @Test
    void leftOutOptionsMeanTheSameInputAllChannelsAndAComparisonBesideTheResult() {
        run("audition take.wav --curve result --from open --to 600 --input 3000 --input-pf 470 --out x/new.wav");
        AuditionRequest.Side to = new AuditionRequest.Side(Load.ofOhms(600, 0), 3000.0, 470);
        assertThat(asked.to()).isEqualTo(to);
        assertThat(asked.channel()).isNull();
        assertThat(asked.levelMatched()).isFalse();
        assertThat(asked.comparison()).isEqualTo(Path.of("x/new-ab.wav"));
        run("audition take.wav --curve result --from open --to 600 --input 3000 --out new.wav --no-ab");
        assertThat(asked.comparison()).isNull();
    }

    @Test
    void summaryTellsChangesLoweringAndFiles() {
        assertThat(run("audition take.wav --curve result --from 150 --to open --input 3000 --out open.wav"))
                .isZero();
        assertThat(stdout)
                .contains("1.00 kHz    +9.01 dB   0.02 dB")
                .contains("lowered     by 2.50 dB")
                .contains("written     open.wav")
                .contains("open-ab.wav: 2 passages");
        assertThat(stderr).isEqualTo("Outside nothing is claimed." + System.lineSeparator());
    }

    @Test
    void jsonHoldsTheSame() throws Exception {
        run("audition take.wav --curve result --from 150 --to open --input 3000 --out open.wav --json");
        assertThat(stdout.lines()).hasSize(1);
        JsonNode json = new ObjectMapper().readTree(stdout);
        assertThat(json.get("changes").get(1).get("change_db").doubleValue()).isEqualTo(9.014, within(1e-9));
        assertThat(json.get("lowered_by_db").doubleValue()).isEqualTo(2.5, within(1e-9));
        assertThat(json.get("comparison").textValue()).isEqualTo("open-ab.wav");
        assertThat(json.get("passages_s")).hasSize(2);
        assertThat(json.get("notes").get(0).textValue()).contains("nothing is claimed");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "audition --curve r --from 150 --to open --input 3000 --out o.wav | TAKE is missing",
                "audition t.wav --from 150 --to open --input 3000 --out o.wav | --curve is missing",
                "audition t.wav --curve r --to open --input 3000 --out o.wav | --from is missing; give the load in ohms",
                "audition t.wav --curve r --from 150 --input 3000 --out o.wav | --to is missing",
                "audition t.wav --curve r --from 150 --to open --input 3000 | --out is missing",
                "audition t.wav --curve r --from 150R --to open --input 3000 --out o.wav | --from holds 150R",
                "audition t.wav --curve r --from 0 --to open --input 3000 --out o.wav | from 0.001 Ω",
                "audition t.wav --curve r --from 150 --to shut --input 3000 --out o.wav | for example 150, or open",
                "audition t.wav --curve r --from 150 --to open --input 3k --out o.wav | --input holds 3k",
                "audition t.wav --curve r --from 150 --to open --input-pf 5 --out o.wav | --input is missing",
                "audition t.wav --curve r --from 1 --to 2 --input 3 --channel 0 --out o.wav | --channel holds 0",
                "audition t.wav --curve r --from 1 --to 2 --input 3 --out o.wav --ab a.wav --no-ab | both given",
                "audition t.wav --curve r --from 1 --to 2 --input 3 --out o.wav --abb a.wav | did you mean --ab?",
            })
    void badInputIsExitTwoWithOneLineThatSaysWhatToDo(String command, String said) {
        assertThat(run(command)).isEqualTo(2);
        assertThat(stderr).startsWith("ohmprint: ").contains(said);
        assertThat(stderr.lines()).hasSize(1);
        assertThat(stdout).isEmpty();
    }
}
