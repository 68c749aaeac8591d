package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.impedance.Route;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.impedance.SharedErrors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the words of a command line ask the use case for, and which are bad usage. */
class ArgumentsTest {
    @Test
    void everyOptionReachesTheUseCase() {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        int code = bench.run(
                "measure",
                "bench 7",
                "--out",
                "there",
                "--bands=24",
                "--route",
                "power",
                "--from",
                "31.5",
                "--to",
                "16000",
                "--shared-errors",
                "carried",
                "--force");
        assertThat(code).isZero();
        assertThat(bench.asked)
                .isEqualTo(new MeasureRequest(
                        Path.of("bench 7"),
                        Path.of("there"),
                        24,
                        Route.POWER,
                        31.5,
                        16000,
                        SharedErrors.CARRIED,
                        true));
    }

    @Test
    void leftOutOptionsAreLeftToTheProgram() {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run("measure", "bench", "--route", "auto")).isZero();
        assertThat(bench.asked).isEqualTo(MeasureRequest.of(Path.of("bench")));
    }

    @Test
    void aFolderMayFollowADoubleDash() {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run("measure", "--", "--odd")).isZero();
        assertThat(bench.asked.session()).isEqualTo(Path.of("--odd"));
    }

    @Test
    void anAtSignIsPartOfAFolderNameAndNotAFileOfArguments(@TempDir Path here) throws IOException {
        Path file = Files.writeString(here.resolve("arguments"), "elsewhere");
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run("measure", "@" + file)).isZero();
        assertThat(bench.asked.session()).isEqualTo(Path.of("@" + file));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "measure x --bands 7 | 1, 3, 6, 12 or 24",
                "measure x --bands 3.0 | 1, 3, 6, 12 or 24",
                "measure x --bandz 3 | --bands?",
                "measure x --bnads=3 | unknown option --bnads (did you mean --bands?)",
                "measure x --ruote power | --route?",
                "measure x --route kappa | auto, stimulus, reference, common or power",
                "measure x --route Power | auto, stimulus, reference, common or power",
                "measure x --shared-errors joint | fitted or carried",
                "measure x --from 300 --to 200 | --from is 300 Hz and --to is 200 Hz",
                "measure x --from 200 --to 200 | lower frequency",
                "measure x --from 20000 | --to is 20000 Hz unless you say otherwise",
                "measure x --from 1k | plain number",
                "measure x --from NaN | plain number",
                "measure x --to -5 | plain number",
                "measure x --to 0 | from 0.001 Hz",
                "measure x --to 1e3 | plain number",
                "measure x --out | --out needs a value",
                "measure x --out --json | --out needs a value",
                "measure | SESSION is missing",
                "measure x y | y is one argument too many",
                "measure x --from 20 --from 30 | --from is given twice",
                "mesure x | did you mean measure?",
                "--json | unknown option --json",
                "zzz | commands are demo, plan",
            })
    void badUsageIsExitTwoWithOneLineThatSaysWhatToDo(String command, String said) {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run(command.split(" "))).isEqualTo(2);
        assertThat(bench.stderr).startsWith("ohmprint: ").contains(said);
        assertThat(bench.stderr.lines()).hasSize(1);
        assertThat(bench.stdout).isEmpty();
        assertThat(bench.asked).isNull();
    }

    @Test
    void noCommandIsBadUsage() {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run()).isEqualTo(2);
        assertThat(bench.stderr).contains("a command is missing, demo, ").contains("see ohmprint --help");
    }

    @Test
    void theDemoTakesTheNextFreeFolder(@TempDir Path here) throws IOException {
        Bench bench = Bench.written(SampleMeasurements.movingCoil()).in(here);
        assertThat(bench.run("demo")).isZero();
        assertThat(bench.demoFolder).isEqualTo(here.resolve("ohmprint-demo"));
        Files.createDirectory(here.resolve("ohmprint-demo"));
        Files.createFile(here.resolve("ohmprint-demo-2"));
        assertThat(bench.run("demo")).isZero();
        assertThat(bench.demoFolder).isEqualTo(here.resolve("ohmprint-demo-3"));
        assertThat(bench.run("demo", "--out", "mine")).isZero();
        assertThat(bench.demoFolder).isEqualTo(Path.of("mine"));
    }
}
