package ohmprint.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** A small cut of the cells of the reference route that are drawn sample by sample. */
@Tag("statistics")
class ReferenceStudyTest {
    /** Some 1700 values in a cell: their share is known to 0.5 %. */
    private static final int SESSIONS = 24;

    private static final double COVERAGE_AWAY = 0.02;

    @ParameterizedTest(name = "{0}")
    @MethodSource
    void intervalsHoldTheTruth(ReferenceCell cell) {
        ReferenceCell.Result result = cell.run(() -> {});
        assertThat(result.magnitudeCoverage()).as("|Z|, %s", cell.name()).isCloseTo(0.95, within(COVERAGE_AWAY));
        assertThat(result.phaseCoverage()).as("phase, %s", cell.name()).isCloseTo(0.95, within(COVERAGE_AWAY));
    }

    static List<ReferenceCell> intervalsHoldTheTruth() {
        return ReferenceCell.all(SESSIONS);
    }
}
