package ohmprint.text;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

// U+2212 is the sign of negative numbers, U+002D the hyphen. Source: The Unicode Standard, chapter 6.2, "Dashes".
class MinusSignTest {
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "hum at -79 dBFS (50.0 Hz) | hum at \u221279 dBFS (50.0 Hz)",
                "-0.25 dB against take-1.wav | \u22120.25 dB against take-1.wav",
                "it fell (-3 dB), see re-take -a | it fell (\u22123 dB), see re-take -a",
                "20-40 Hz on 2026-11-26 | 20-40 Hz on 2026-11-26"
            })
    void onlyNumbersOfASentenceGetAMinusSign(String written, String shown) {
        assertThat(MinusSign.inSentence(written)).isEqualTo(shown);
    }

    @Test
    void aNumberGetsIt() {
        assertThat(MinusSign.in("-1.50")).isEqualTo("\u22121.50");
    }
}
