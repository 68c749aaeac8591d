package ohmprint.app.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Objects;
import ohmprint.app.BadInputException;
import ohmprint.app.plan.LoadPlan.LoadSet;
import ohmprint.app.plan.PlanRequest.Bench;
import ohmprint.app.plan.PlanRequest.Expected;
import ohmprint.app.plan.PlanRequest.Resistors;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What is said about a set of loads: what would help it, how long the sound has to be, which loads are too low. */
@Tag("slow")
class PlanAdviceTest {
    /** The best set of three without a minimum takes 100 Ω, so the minimum has something to exclude. */
    @Test
    void noSetGoesBelowTheMinimumLoadAndTheNotesNameWhatIsLeftOut() throws Exception {
        assertThat(PlanLoads.run(Plans.stock(null, 100, 220, 470, 1000)).sets())
                .anyMatch(set -> set.loadsOhm().contains(100.0));

        LoadPlan plan = PlanLoads.run(Plans.stock(200.0, 100, 220, 470, 1000));

        assertThat(plan.sets()).hasSize(3).allSatisfy(set -> {
            assertThat(set.loadsOhm()).isSubsetOf(220.0, 470.0, 1000.0, Plans.OPEN);
            assertThat(set.findings()).isEmpty();
        });
        assertThat(plan.notes()).containsExactly("not proposed, below the minimum load of 200 Ω: 100 Ω");
    }

    @Test
    void aMinimumThatNoResistorReachesIsRefused() {
        assertThatThrownBy(() -> PlanLoads.run(Plans.stock(2000.0, 100, 220)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("reaches the minimum load of 2000 Ω; add higher ones");
    }

    @Test
    void aSteadierBenchAndBetterPartsArePredictedToHelp() throws Exception {
        LoadSet set = Plans.of(PlanLoads.run(PlanRequest.of(Expected.ofOhms(300), 3000)), 2);
        assertThat(set.changes()).hasSize(5);
        assertThat(set.changes().subList(0, 4))
                .allSatisfy(change -> assertThat(change.predicted().worst())
                        .isLessThan(set.predicted().worst()));
        LoadPlan.Change last = set.changes().get(4);
        assertThat(last.change()).contains("repeated");
        assertThat(last.predicted().worst()).isGreaterThan(set.predicted().worst());
    }

    @Test
    void changesThatAreNoneAreNotOffered() throws Exception {
        LoadPlan plan = PlanLoads.run(Plans.request(
                Expected.ofOhms(300), 3000, 0.1, new Bench(0.02, 40, 10), new Resistors("E12", List.of(), 0.1, null)));
        assertThat(Plans.of(plan, 2).changes())
                .extracting(LoadPlan.Change::change)
                .containsExactly("make the sound twice as long", "leave out the repeated take");
    }

    @Test
    void whatIsWantedIsReachedWithTheLengthThatIsTold() throws Exception {
        PlanRequest request = Plans.wanted(1.5, 10);
        LoadSet set = Plans.of(PlanLoads.run(request), 2);
        double seconds = Objects.requireNonNull(set.secondsForWanted());
        assertThat(seconds).isGreaterThan(10);
        LoadSet then = PlanLoads.run(Plans.wanted(1.5, seconds)).sets().stream()
                .filter(s -> s.loadsOhm().size() == 2)
                .findFirst()
                .orElseThrow();
        // With the new length another pair may be better still, never worse.
        assertThat(then.predicted().worst()).isLessThanOrEqualTo(1.5 + 1e-9);
        assertThat(Plans.of(PlanLoads.run(Plans.wanted(0.01, 10)), 2).secondsForWanted())
                .isInfinite();
    }
}
