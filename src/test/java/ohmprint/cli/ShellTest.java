package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.Writer;
import java.nio.file.AccessDeniedException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;

/** What a user or a script is told when a command fails: exit code and standard error. */
class ShellTest {
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
        Environment around = new Environment(Path.of(""), false, 80, false, "0.0.7");
        assertThat(new Shell(bench.commands, new Console(around, full, new PrintWriter(err)))
                        .run(new String[] {"measure", "x"}))
                .isEqualTo(2);
        assertThat(err.toString()).contains("standard output");
    }
}
