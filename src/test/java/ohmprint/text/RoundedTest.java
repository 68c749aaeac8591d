package ohmprint.text;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RoundedTest {
    /** JCGM 100:2008, 7.2.6: 10.057 62 Ω with 27 mΩ is 10.058 Ω; 7.2.2: 100.021 47 g with 0.35 mg (from memory). */
    @ParameterizedTest
    @CsvSource({
        "10.05762, 0.027, 10.058, 0.027",
        "100.02147, 0.00035, 100.02147, 0.00035",
        "254.260, 0.236, 254.26, 0.24",
        "199.96, 0.996, 200.0, 1.0",
        "12345, 678, 12350, 680",
        "-0.04, 1.2, 0.0, 1.2",
        "200, 1, 200.0, 1.0",
    })
    void uncertaintyHasTwoDigitsAndTheValueItsPlace(double value, double u, String printed, String printedU) {
        Rounded rounded = Rounded.of(value, u);
        assertThat(rounded.value()).isEqualTo(printed);
        assertThat(rounded.uncertainty()).isEqualTo(printedU);
    }

    @Test
    void undeterminedNumbersAreDashes() {
        assertThat(Rounded.of(Double.NaN, 1)).isEqualTo(new Rounded("–", "–"));
        assertThat(Rounded.of(123.456, Double.NaN)).isEqualTo(new Rounded("123.5", "–"));
        assertThat(Rounded.of(123.456, Double.POSITIVE_INFINITY)).isEqualTo(new Rounded("123.5", "–"));
    }

    /** Nominal and exact midbands of IEC 61260-1 (from memory). */
    @ParameterizedTest
    @CsvSource({
        "31.6227766, 31.6 Hz",
        "971.627951, 972 Hz",
        "999.4, 999 Hz",
        "999.6, 1.00 kHz",
        "1000, 1.00 kHz",
        "15848.9319, 15.8 kHz"
    })
    void frequenciesHaveThreeDigits(double hz, String printed) {
        assertThat(Numbers.frequency(hz)).isEqualTo(printed);
    }
}
