package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.Charset;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class StandardStreamsTest {
    private static String through(String charset, String text) throws IOException {
        StringWriter next = new StringWriter();
        try (PrintWriter writer = new PrintWriter(
                new StandardStreams.AsciiFallback(next, Charset.forName(charset).newEncoder()))) {
            writer.print(text);
        }
        return next.toString();
    }

    @ParameterizedTest
    @CsvSource({
        "US-ASCII, 300 ± 2 Ω ∥ 470 pF, 300 +/- 2 ohm || 470 pF",
        "windows-1252, 300 ± 2 Ω, 300 ± 2 ohm",
        "UTF-8, 300 ± 2 Ω – 5°, 300 ± 2 Ω – 5°",
    })
    void whatIsMissingIsSpelledOut(String charset, String text, String shown) throws IOException {
        assertThat(through(charset, text)).isEqualTo(shown);
    }

    @Test
    void aCharacterOutsideTheTableIsOneQuestionMark() throws IOException {
        assertThat(through("US-ASCII", "a😀b")).isEqualTo("a?b");
    }

    @ParameterizedTest
    @ValueSource(strings = {"US-ASCII", "windows-1252", "IBM437"})
    void everySummaryCanBeEncoded(String charset) throws IOException {
        Bench bench = Bench.written(SampleMeasurements.ribbonWithGaps());
        bench.run("measure", "x");
        String shown = through(charset, bench.stdout + bench.stderr);
        assertThat(Charset.forName(charset).newEncoder().canEncode(shown)).isTrue();
        assertThat(shown).doesNotContain("?");
    }
}
