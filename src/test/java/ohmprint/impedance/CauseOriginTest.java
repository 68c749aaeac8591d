package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

class CauseOriginTest {
    /** They stand in released files. */
    @Test
    void wordsAndKeysAreThoseOfReleasedFiles() {
        assertThat(CauseOrigin.values())
                .extracting(CauseOrigin::word)
                .containsExactly("noise", "drift", "loads", "input", "timing");
        assertThat(CauseOrigin.values())
                .extracting(CauseOrigin::ohmKey)
                .containsExactly("noise_ohm", "drift_ohm", "loads_ohm", "input_ohm", "timing_ohm");
    }

    @Test
    void aBudgetHoldsEachOriginInItsPlace() {
        BandBudget budget = BandBudget.of(origin -> origin.ordinal() + 1.0);

        assertThat(budget).isEqualTo(new BandBudget(1, 2, 3, 4, 5));
        assertThat(Arrays.stream(CauseOrigin.values()).map(budget::of)).containsExactly(1.0, 2.0, 3.0, 4.0, 5.0);
        assertThat(budget.times(-2)).isEqualTo(new BandBudget(-2, -4, -6, -8, -10));
    }

    @Test
    void theLargestPartIsNamedAndOfEqualOnesTheFirst() {
        assertThat(new BandBudget(1, 2, 5, 3, 4).largest()).isEqualTo(CauseOrigin.LOADS);
        assertThat(new BandBudget(0, 2, 0, 2, 1).largest()).isEqualTo(CauseOrigin.DRIFT);
    }

    /** The page has sentences of its own for them, in a list that is not compiled. */
    @Test
    void thePageNamesEveryOriginInTheSameOrder() throws Exception {
        String script;
        try (InputStream in = CauseOriginTest.class.getResourceAsStream("/ohmprint/web/readout.js")) {
            script = new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
        Matcher list = Pattern.compile("const ORIGINS = \\{(.*)\\};").matcher(script);
        assertThat(list.find()).isTrue();

        assertThat(Pattern.compile("(\\w+): \"[^\"]+\"").matcher(list.group(1)).results())
                .extracting(m -> m.group(1))
                .isEqualTo(Arrays.stream(CauseOrigin.values())
                        .map(CauseOrigin::word)
                        .toList());
    }
}
