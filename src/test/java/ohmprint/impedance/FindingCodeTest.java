package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import ohmprint.impedance.FindingCode.Wording;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What is said of each kind of evidence. */
class FindingCodeTest {
    /** More values than any wording takes; a number may stand wherever a text may. */
    private static final Object[] VALUES = {1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5, 9.5};

    @ParameterizedTest
    @EnumSource
    void aMessageIsWholeAndReadsOnAfterItsCode(Wording wording) {
        Finding finding = wording.of("take-1.wav", VALUES);
        assertThat(finding.take()).isEqualTo("take-1.wav");
        assertThat(finding.message())
                .doesNotContain("  ")
                .doesNotContainPattern("%[^ ,:]")
                .matches("(?s).*[;:,] .*")
                .doesNotEndWith(".");
    }

    @Test
    void everyCodeIsWorded() {
        assertThat(Arrays.stream(Wording.values()).map(w -> w.of(null, VALUES).code()))
                .containsOnly(FindingCode.values())
                .contains(FindingCode.values());
    }

    /** A take is recorded again when nothing, or nothing beyond doubt, can be made of it; what is a mere note spoils none. */
    @ParameterizedTest
    @EnumSource
    void whatSpoilsATakeIsMoreThanANote(FindingCode code) {
        if (code.spoilsTake()) {
            assertThat(code.severity()).isLessThan(FindingCode.Severity.NOTE);
        }
        assertThat(code.severity() == FindingCode.Severity.FATAL)
                .as("a fatal one always does")
                .isEqualTo(code == FindingCode.CLIPPED || code == FindingCode.DROPOUT);
    }
}
