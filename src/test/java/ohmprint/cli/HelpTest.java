package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Help and version as a terminal shows them. */
class HelpTest {
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
}
