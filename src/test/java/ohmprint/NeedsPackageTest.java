package ohmprint;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;

class NeedsPackageTest {
    @Test
    void runsTheTestWhenNothingIsSaidToBeMissing() {
        assertThat(decide(null, "ngspice").isDisabled()).isFalse();
        assertThat(decide("", "ngspice").isDisabled()).isFalse();
    }

    @Test
    void skipsTheTestWhenOneOfItsPackagesIsMissingAndNamesIt() {
        ConditionEvaluationResult result = decide("python3-scipy ngspice", "python3-numpy", "ngspice");

        assertThat(result.isDisabled()).isTrue();
        assertThat(result.getReason())
                .hasValueSatisfying(
                        reason -> assertThat(reason).contains("ngspice").doesNotContain("python3"));
    }

    @Test
    void takesWholeNamesOnly() {
        assertThat(decide("python3-numpy-dev", "python3-numpy").isDisabled()).isFalse();
    }

    private static ConditionEvaluationResult decide(String missing, String... needed) {
        return NeedsPackage.Condition.decide(List.of(needed), missing);
    }
}
