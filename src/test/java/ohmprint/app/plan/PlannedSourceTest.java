package ohmprint.app.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.plan.PlanRequest.Bench;
import ohmprint.app.plan.PlanRequest.Expected;
import ohmprint.app.plan.PlanRequest.Resistors;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** For which source a plan is made: a usual microphone, a measured curve, and none where it cannot be worked with. */
@Tag("slow")
class PlannedSourceTest {
    @TempDir
    Path dir;

    @ParameterizedTest
    @ValueSource(strings = {"moving-coil", "ribbon", "condenser"})
    void usualMicrophonesHaveAPlan(String transducer) throws Exception {
        LoadPlan plan = PlanLoads.run(PlanRequest.of(Expected.ofTransducer(transducer), 3000));
        assertThat(plan.expected()).contains("usual");
        assertThat(plan.sets())
                .hasSize(3)
                .allSatisfy(set -> assertThat(set.predicted().worst()).isBetween(0.1, 10.0));
    }

    @Test
    void aMeasuredCurveIsPlannedFor() throws Exception {
        Files.createDirectory(dir.resolve("result"));
        Files.writeString(dir.resolve("result/curve.json"), CurveJson.write(SampleMeasurements.movingCoil()));
        for (Path path : List.of(dir, dir.resolve("result"), dir.resolve("result/curve.json"))) {
            LoadPlan plan = PlanLoads.run(PlanRequest.of(Expected.ofCurve(path.toString()), 3000));
            assertThat(plan.expected())
                    .startsWith(SampleMeasurements.movingCoil().microphone().label());
            // The sample is 200 Ω and up to 300 Ω at its resonance.
            assertThat(Plans.of(plan, 2).loadsOhm().get(0)).isBetween(82.0, 330.0);
            assertThat(Plans.of(plan, 2).worstOhm()).isBetween(199.0, 400.0);
        }
    }

    @Test
    void aCurveSetsTheRangeAndCannotBeLeft() throws Exception {
        Path file = Files.writeString(dir.resolve("c.json"), CurveJson.write(SampleMeasurements.movingCoil()));
        LoadPlan plan = PlanLoads.run(PlanRequest.of(Expected.ofCurve(file.toString()), 3000));
        var bands = SampleMeasurements.movingCoil().curve().bands();
        assertThat(plan.bands().midband(0)).isGreaterThanOrEqualTo(bands.midband(0) * 0.999);
        assertThatThrownBy(() -> PlanLoads.run(Plans.range(Expected.ofCurve(file.toString()), 1.0, null)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("lowest frequency is 1.0 Hz")
                .hasMessageContaining("stay within");
    }

    @Test
    void whatCannotBeWorkedWithIsSaid() throws Exception {
        Path empty = Files.createDirectory(dir.resolve("empty"));
        refused(PlanRequest.of(Expected.ofTransducer("laser"), 3000), "choose moving-coil, ribbon or condenser");
        refused(PlanRequest.of(new Expected(300.0, "ribbon", null), 3000), "in 2 ways");
        refused(PlanRequest.of(new Expected(null, null, null), 3000), "in 0 ways");
        refused(PlanRequest.of(Expected.ofOhms(-1), 3000), "ohms above 0");
        refused(PlanRequest.of(Expected.ofOhms(300), 0), "input resistance of 0.0");
        refused(PlanRequest.of(Expected.ofCurve(empty.toString()), 3000), "holds no curve.json");
        refused(Plans.range(Expected.ofOhms(300), 300.0, 200.0), "lower frequency first");
        refused(
                Plans.request(Expected.ofOhms(300), 3000, 5, Bench.USUAL, new Resistors("E13", List.of(), 1, null)),
                "choose E12, E24 or E96");
        refused(Plans.stock(null, 100, -5), "load of -5.0 Ω");
    }

    private static void refused(PlanRequest request, String said) {
        assertThatThrownBy(() -> PlanLoads.run(request))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining(said);
    }
}
