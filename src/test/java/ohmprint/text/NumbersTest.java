package ohmprint.text;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Expected texts are rounded by hand. */
class NumbersTest {
    private final Locale usual = Locale.getDefault();

    @AfterEach
    void restoreTheLocale() {
        Locale.setDefault(usual);
    }

    @ParameterizedTest
    @CsvSource({
        "0.5, 0.500 Hz, 0.5 Hz",
        "20, 20.0 Hz, 20 Hz",
        "999.4, 999 Hz, 999 Hz",
        "999.5, 1.00 kHz, 1 kHz",
        "999.7, 1.00 kHz, 1 kHz",
        "1000, 1.00 kHz, 1 kHz",
        "12540, 12.5 kHz, 12.5 kHz",
        "99950, 100 kHz, 100 kHz"
    })
    void aFrequencyReadsTheSameInColumnsAndSentencesButForItsZeros(double hz, String column, String sentence) {
        assertThat(Numbers.frequency(hz)).isEqualTo(column);
        assertThat(Numbers.briefFrequency(hz)).isEqualTo(sentence);
    }

    @ParameterizedTest
    @CsvSource({
        "1.3694, H, 1.369 H",
        "4.7e-8, F, 47.00 nF",
        "9.9996e-7, F, 1.000 µF",
        "-0.25, H, -250.0 mH",
        "0, H, 0 H",
        "3.5, '', 3.500",
        "2.5, Ω·s, 2.500 Ω·s",
        "Infinity, Ω, Infinity Ω"
    })
    void aPrefixKeepsTheNumberBetweenOneAndAThousand(double value, String unit, String text) {
        assertThat(Numbers.withPrefix(value, unit, 4)).isEqualTo(text);
    }

    @ParameterizedTest
    @CsvSource({"0.00001, 0.00001", "48000, 48000", "44100.5, 44100.5", "0, 0", "-0.0, 0", "1e20, 100000000000000000000"
    })
    void whatWasEnteredIsRepeatedWithoutAnExponent(double value, String text) {
        assertThat(Numbers.exact(value)).isEqualTo(text);
    }

    @ParameterizedTest
    @CsvSource({"600, 600 Ω", "999.7, 1 kΩ", "1500, 1.5 kΩ", "47000, 47 kΩ"})
    void anInputIsStatedInKiloohms(double ohm, String text) {
        assertThat(Numbers.inputOhms(ohm)).isEqualTo(text);
    }

    @ParameterizedTest
    @CsvSource({"1502.4, 1502 Ω", "220, 220 Ω", "0.05, 0.05 Ω", "123456, 123500 Ω"})
    void ohmsHaveFourDigitsAndNoPrefix(double ohm, String text) {
        assertThat(Numbers.ohms(ohm)).isEqualTo(text);
    }

    @ParameterizedTest
    @CsvSource({
        "0.41, 0.9, 0.41 to 0.90 dB",
        "0.41, Infinity, 0.41 dB or more",
        "-Infinity, 0.9, 0.90 dB or less",
        "-Infinity, Infinity, –"
    })
    void boundsSayWhichSideIsOpen(double low, double high, String text) {
        assertThat(Numbers.bounds(low, high, "dB", bound -> Numbers.digits(bound, 2)))
                .isEqualTo(text);
    }

    @Test
    void aFileHoldsNineDigitsAndNothingForWhatIsNoNumber() {
        assertThat(Numbers.inFile(1000 / (2 * Math.PI))).isEqualTo("159.154943");
        assertThat(Numbers.inFile(Double.NaN)).isEmpty();
        assertThat(Numbers.inFile(Double.POSITIVE_INFINITY)).isEmpty();
    }

    @Test
    void theLocaleOfTheComputerDoesNotMatter() {
        Locale.setDefault(Locale.GERMANY);

        assertThat(Numbers.digits(1234.5, 5)).isEqualTo("1234.5");
        assertThat(Numbers.brief(0.5)).isEqualTo("0.5");
        assertThat(Numbers.withPrefix(1234.6, "Ω", 4)).isEqualTo("1.235 kΩ");
    }
}
