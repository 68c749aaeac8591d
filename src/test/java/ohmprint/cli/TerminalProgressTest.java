package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.time.Duration;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

class TerminalProgressTest {
    @Test
    void quickWorkShowsNothing() {
        StringWriter err = new StringWriter();
        try (TerminalProgress bar = TerminalProgress.start(new PrintWriter(err), 60)) {
            bar.at("reading take-1.wav", 0.5);
        }
        assertThat(err.toString()).isEmpty();
    }

    @Test
    void slowWorkShowsStepAndShareOnOneLineAndTakesItAway() throws InterruptedException {
        StringWriter err = new StringWriter();
        try (TerminalProgress bar = TerminalProgress.start(new PrintWriter(err), 90)) {
            bar.at("reading take-1.wav", 0.25);
            Thread.sleep(Duration.ofMillis(1400).toMillis());
            bar.at("solving", 0.75);
            Thread.sleep(Duration.ofMillis(400).toMillis());
        }
        String shown = err.toString();
        assertThat(shown)
                .contains("reading take-1.wav")
                .contains("25 %")
                .contains("solving")
                .contains("75 %")
                .doesNotContain("\n")
                .doesNotContain("\u001b");
        assertThat(Arrays.stream(shown.split("\r"))).allMatch(line -> line.length() < 90);
        assertThat(shown).endsWith(" \r");
    }
}
