package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** {@code record --yes} as a script meets it. */
@Tag("slow")
class UnattendedRecordingTest extends HandsAtTheBench {
    @Test
    void aScriptIsToldWhatToFitInJsonLines() {
        int code = run(record(with(NEW, "--yes", "--json")), "@1500", "@150", "@1500", "@150");
        assertThat(code).as(stderr).isZero();
        assertThat(stdout.lines().map(line -> line.replaceAll(".*\"event\":\"([a-z]*)\".*", "$1")))
                .containsExactly(
                        "plan", "fit", "level", "fit", "take", "kept", "fit", "take", "kept", "fit", "take", "kept",
                        "done");
        assertThat(stdout).contains("{\"event\":\"fit\",\"take\":2,\"takes\":3,\"load_ohm\":1500.0}");
    }

    @Test
    void unattendedABadTakeEndsAfterThreeAttemptsAndNothingBadIsInTheSession() throws IOException {
        int code = run(record(with(NEW, "--yes", "--no-level-check")), "@150", "@150", "@150", "@150");
        assertThat(code).isEqualTo(3);
        assertThat(stderr).contains("Take 2 could not be recorded in 3 attempts");
        assertThat(dir.resolve("session/take-2.repeated-3.wav")).exists();
        assertThat(Files.readString(dir.resolve("session/session.yaml"))).doesNotContain("take-2");
        assertThat(run(record("--yes"), "@1500", "@150")).as(stderr).isZero();
        assertThat(stdout).contains("take-1.wav, take-2.wav, take-3.wav");
    }

    @Test
    void unattendedWaitingForSecondsReadsNoInput() {
        bench.ohm = 150;
        assertThat(run(record(with(NEW, "--yes", "--no-level-check", "--wait", "0"))))
                .isEqualTo(3);
        assertThat(stderr).contains("Take 1 of 3: fit 150 Ω across pins 2 and 3 within 0 s.");
    }

    @Test
    void unattendedALevelThatCannotBeUsedEndsBeforeTheTakes() {
        bench.gain = 0;
        assertThat(run(record(with(NEW, "--yes")), "@1500")).isEqualTo(3);
        assertThat(stderr).contains("The level cannot be used; set it and start again.");
    }

    @Test
    void inputThatEndsLeavesASessionThatGoesOn() {
        assertThat(run(record(with(NEW, "--yes", "--no-level-check")), "@150")).isEqualTo(2);
        assertThat(stderr)
                .contains("standard input ended at: Take 2 of 3: fit 1500 Ω across pins 2 and 3, then send a line:")
                .contains("go on with: ohmprint record ");
        assertThat(run(record("--yes"), "@1500", "@150")).as(stderr).isZero();
    }
}
