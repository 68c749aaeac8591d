package ohmprint.cli;

import static java.util.stream.Collectors.joining;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.Writer;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureRequest;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.Route;
import ohmprint.curve.SampleMeasurements;
import ohmprint.curve.SharedErrors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The command line as a user or a script meets it: exit code, standard output, standard error. */
class ShellTest {
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
                "measure x --to 0 | above 0 Hz",
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

    @ParameterizedTest
    @ValueSource(strings = {"--help", "demo --help", "measure --help", "plan --help", "measure x --bands 3 -h"})
    void helpHasAnExampleAndTheCautionsAndFitsATerminal(String command) {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run(command.split(" "))).isZero();
        assertThat(bench.stdout)
                .contains("Example")
                .contains("  ohmprint ")
                .contains("Phantom power off")
                .contains("No ohmmeter on a ribbon")
                .contains("hearing")
                .contains("Valve supplies")
                .doesNotContain("\u001b")
                .doesNotContain("%n");
        assertThat(bench.stdout.lines()).allMatch(line -> line.length() <= 96);
        assertThat(bench.stderr).isEmpty();
        assertThat(bench.asked).isNull();
    }

    @Test
    void helpOfMeasureSaysWhatForceDoesToTheExitCode() {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        bench.run("measure", "--help");
        assertThat(bench.stdout)
                .contains("3  the evidence does not support a curve")
                .contains("with --force");
    }

    @Test
    void versionIsOnStandardOutput() {
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        assertThat(bench.run("--version")).isZero();
        assertThat(bench.stdout.strip()).isEqualTo("ohmprint 0.0.7");
    }

    @Test
    void findingsGoToStandardErrorOneLineEach() {
        Bench bench = Bench.written(SampleMeasurements.ribbonWithGaps());
        assertThat(bench.run("measure", "x")).isZero();
        List<String> lines = bench.stderr.lines().toList();
        assertThat(lines).hasSize(2);
        assertThat(lines.get(0)).startsWith("low-snr: take-2.wav: take take-2.wav is less than 20 dB");
        assertThat(lines.get(1)).startsWith("input-unknown: the recording input is not stated");
        assertThat(bench.stdout).doesNotContain("low-snr");
    }

    @Test
    void nothingWrittenIsExitThreeAndShowsNoOhms() {
        Bench bench = Bench.refused(SampleMeasurements.withFindings(2));
        assertThat(bench.run("measure", "x")).isEqualTo(3);
        assertThat(bench.stdout).contains("unusable").contains("--force").doesNotContain("Ω");
        assertThat(bench.stderr.lines()).hasSize(2);
    }

    @Test
    void forcedResultIsWrittenWithExitZeroAndRecommendsNoInput() {
        Bench bench = Bench.written(SampleMeasurements.withFindings(2));
        assertThat(bench.run("measure", "x", "--force")).isZero();
        assertThat(bench.stdout).contains("unusable").contains("here").doesNotContain("ten times");
    }

    @Test
    void jsonIsOneObjectAndNothingElse() throws IOException {
        Bench bench = Bench.written(SampleMeasurements.ribbonWithGaps());
        assertThat(bench.run("measure", "x", "--json")).isZero();
        assertThat(bench.stdout.lines()).hasSize(1);
        JsonNode json = new ObjectMapper().readTree(bench.stdout);
        assertThat(json.fieldNames())
                .toIterable()
                .containsExactly(
                        "verdict",
                        "route",
                        "route_reason",
                        "quantity",
                        "folder",
                        "files",
                        "findings",
                        "measured_bands",
                        "rejected_bands",
                        "interval_bands",
                        "advice");
        Measurement m = SampleMeasurements.ribbonWithGaps();
        assertThat(json.get("verdict").textValue()).isEqualTo("doubtful");
        assertThat(json.get("quantity").textValue()).isEqualTo("source impedance in parallel with the input");
        assertThat(json.get("folder").textValue())
                .isEqualTo(Path.of("here", "result").toString());
        assertThat(json.get("files")).hasSize(5);
        assertThat(json.get("findings").get(0).get("code").textValue()).isEqualTo("low-snr");
        assertThat(json.get("findings").get(1).get("take").isNull()).isTrue();
        assertThat(json.get("measured_bands").intValue()
                        + json.get("rejected_bands").intValue())
                .isEqualTo(m.curve().bands().size());
        assertThat(json.get("rejected_bands").intValue()).isPositive();
        assertThat(json.get("advice").get(0).textValue()).startsWith("The loads dominate");
    }

    @Test
    void jsonOfARefusalHasNoFolder() throws IOException {
        Bench bench = Bench.refused(SampleMeasurements.withFindings(1));
        assertThat(bench.run("measure", "x", "--json")).isEqualTo(3);
        JsonNode json = new ObjectMapper().readTree(bench.stdout);
        assertThat(json.get("folder").isNull()).isTrue();
        assertThat(json.get("files")).isEmpty();
    }

    @Test
    void eachProblemOfBadInputIsALineAndExitTwo() {
        Bench bench = Bench.with((request, progress) -> {
            throw new BadInputException("session.yaml:3: a\nsession.yaml:8: b");
        });
        assertThat(bench.run("measure", "x")).isEqualTo(2);
        assertThat(bench.stderr.lines()).containsExactly("ohmprint: session.yaml:3: a", "ohmprint: session.yaml:8: b");
        assertThat(bench.stdout).isEmpty();
    }

    @Test
    void aFileThatCannotBeWrittenIsExitTwoAndNamed() {
        Bench bench = Bench.with((request, progress) -> {
            throw new AccessDeniedException("/somewhere/result");
        });
        assertThat(bench.run("measure", "x")).isEqualTo(2);
        assertThat(bench.stderr)
                .contains("/somewhere/result: permission denied")
                .contains("--out");
    }

    @Test
    void aFaultOfTheProgramIsExitOneAndShowsItsTraceOnlyWhenAsked() {
        Bench bench = Bench.with((request, progress) -> {
            throw new IllegalStateException("matrix is singular");
        });
        assertThat(bench.run("measure", "x")).isEqualTo(1);
        assertThat(bench.stderr)
                .contains("IllegalStateException: matrix is singular")
                .contains("report")
                .contains("0.0.7")
                .contains("OHMPRINT_DEBUG=1")
                .doesNotContain("\tat ");
        assertThat(bench.run(true, "measure", "x")).isEqualTo(1);
        assertThat(bench.stderr).contains("\tat ohmprint.cli.");
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

    static Stream<Measurement> allKinds() {
        return Stream.of(
                SampleMeasurements.movingCoil(),
                SampleMeasurements.ribbonWithGaps(),
                SampleMeasurements.intervalsOnly(),
                SampleMeasurements.magnitudesOnly(),
                SampleMeasurements.wideRange(),
                SampleMeasurements.thirdOctaves());
    }

    @ParameterizedTest
    @MethodSource("allKinds")
    void outputDoesNotDependOnTheLocale(Measurement measurement) {
        Locale usual = Locale.getDefault();
        try {
            String all = Stream.of("en-GB", "de-DE", "ar-EG-u-nu-arab", "tr-TR")
                    .map(tag -> {
                        Locale.setDefault(Locale.forLanguageTag(tag));
                        Bench bench = Bench.written(measurement);
                        bench.run("measure", "x");
                        return bench.stdout + bench.stderr;
                    })
                    .distinct()
                    .collect(joining("\n=====\n"));
            assertThat(all).doesNotContain("=====").doesNotContain("NaN").doesNotContain("Infinity");
        } finally {
            Locale.setDefault(usual);
        }
    }

    @Test
    void controlCharactersFromOutsideDoNotReachTheTerminal() {
        Measurement odd = SampleMeasurements.labelled("Bench\u001b[2J ribbon\r\n7");
        assertThat(odd.microphone()).extracting(Microphone::label).asString().contains("\u001b");
        Bench bench = Bench.written(odd);
        bench.run("measure", "x");
        assertThat(bench.stdout).doesNotContain("\u001b").doesNotContain("\r\n7");
    }

    @Test
    void outputThatCannotBePrintedIsNotExitZero() {
        PrintWriter full = new PrintWriter(new Writer() {
            @Override
            public void write(char[] text, int from, int length) throws IOException {
                throw new IOException("no space left");
            }

            @Override
            public void flush() {}

            @Override
            public void close() {}
        });
        Bench bench = Bench.written(SampleMeasurements.movingCoil());
        StringWriter err = new StringWriter();
        Surroundings around = new Surroundings(Path.of(""), false, 80, false, "0.0.7");
        assertThat(new Shell(bench.commands, new Console(around, full, new PrintWriter(err)))
                        .run(new String[] {"measure", "x"}))
                .isEqualTo(2);
        assertThat(err.toString()).contains("standard output");
    }
}
