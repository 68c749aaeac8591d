package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LoadTest {
    @Test
    void resistorHasItsConductance() {
        assertThat(Load.ofOhms(1500, 1).conductance()).isEqualTo(1 / 1500.0);
        assertThat(Load.ofOhms(1500, 1).ohm()).isEqualTo(1500);
    }

    @Test
    void openHasNoConductanceAndNoUncertainty() {
        assertThat(Load.open().conductance()).isZero();
        assertThat(Load.open().relativeStandardUncertainty()).isZero();
        assertThat(Load.open().isOpen()).isTrue();
        assertThat(Load.open().ohm()).isInfinite();
    }

    // JCGM 100:2008, 4.3.7: a rectangular distribution of half-width a has the standard uncertainty a/√3.
    @Test
    void toleranceIsRectangular() {
        assertThat(Load.ofOhms(150, 1).relativeStandardUncertainty()).isCloseTo(0.0057735027, within(1e-10));
    }

    @Test
    void measuredLoadKeepsItsStandardUncertainty() {
        Load load = Load.measured(149.6, 0.3);
        assertThat(load.isMeasured()).isTrue();
        assertThat(load.relativeStandardUncertainty()).isCloseTo(0.3 / 149.6, within(1e-15));
    }

    @Test
    void labelsAreShortAndTheSameInEveryLocale() {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            assertThat(Load.ofOhms(330, 1).label()).isEqualTo("330 Ω");
            assertThat(Load.ofOhms(99.8, 0.1).label()).isEqualTo("99.8 Ω");
            assertThat(Load.ofOhms(1e5, 1).label()).isEqualTo("100000 Ω");
            assertThat(Load.ofOhms(4700 / 3.0, 1).label()).isEqualTo("1566.67 Ω");
            assertThat(Load.open().label()).isEqualTo("open");
        } finally {
            Locale.setDefault(before);
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, -0.0, -150, Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void impossibleResistanceIsRefusedWithValueUnitAndRemedy(double ohm) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Load.ofOhms(ohm, 1))
                .withMessageContaining(ohm + " Ω")
                .withMessageContaining("or open");
        assertThatIllegalArgumentException().isThrownBy(() -> Load.measured(ohm, 0));
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1, 100, Double.NaN, Double.POSITIVE_INFINITY})
    void impossibleToleranceIsRefused(double percent) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Load.ofOhms(150, percent))
                .withMessageContaining(percent + " %");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Load.measured(100, percent))
                .withMessageContaining(percent + " Ω");
    }

    @Test
    void equalOnlyWhenStatedAlike() {
        assertThat(Load.ofOhms(150, 1)).isEqualTo(Load.ofOhms(150, 1)).hasSameHashCodeAs(Load.ofOhms(150, 1));
        assertThat(Load.ofOhms(150, 1)).isNotEqualTo(Load.ofOhms(150, 5)).isNotEqualTo(Load.measured(150, 1));
    }
}
