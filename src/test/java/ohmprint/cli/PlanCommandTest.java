package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.plan.PlanRequest;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The command {@code plan} as a user or a script meets it. */
@Tag("slow")
class PlanCommandTest {
    private final Bench bench = Bench.written(SampleMeasurements.movingCoil());

    private int run(String line) {
        return bench.run(line.split(" "));
    }

    private JsonNode json(String line) throws IOException {
        assertThat(run(line)).as(bench.stderr).isZero();
        assertThat(bench.stdout.lines()).hasSize(1);
        return new ObjectMapper().readTree(bench.stdout);
    }

    @Test
    void everyOptionReachesTheUseCase() {
        run("plan --curve there --input 1500 --input-tolerance 2 --input-pf 330 --from 50 --to 15000 --drift 0.2"
                + " --tolerance 0.1 --snr 55 --seconds 20 --stock 100,open,220.5 --minimum-load 150 --wanted 1");
        assertThat(bench.planned)
                .isEqualTo(new PlanRequest(
                        PlanRequest.Expected.ofCurve("there"),
                        1500,
                        2,
                        330,
                        50.0,
                        15_000.0,
                        new PlanRequest.Bench(0.2, 55, 20),
                        new PlanRequest.Resistors("E12", List.of(100.0, 220.5), 0.1, 150.0),
                        1.0));
    }

    @Test
    void leftOutOptionsAreThoseOfAMeasurement() {
        run("plan --impedance 300 --input 3000");
        assertThat(bench.planned).isEqualTo(PlanRequest.of(PlanRequest.Expected.ofOhms(300), 3000));
        // 0.05 % level, 1 % resistors, 5 % input: what a session assumes that says nothing, as the session page tells.
        assertThat(bench.planned.bench().driftPercent()).isEqualTo(0.05);
        assertThat(bench.planned.resistors().tolerancePercent()).isEqualTo(1);
        assertThat(bench.planned.inputTolerancePercent()).isEqualTo(5);
        assertThat(MeasureRequest.DEFAULT_FROM_HZ).isEqualTo(20);
    }

    @Test
    void jsonHoldsTheSetsBestFirst() throws IOException {
        JsonNode json = json("plan --impedance 300 --input 3000 --json");
        JsonNode sets = json.get("sets");
        assertThat(sets).hasSize(3);
        double last = 0;
        for (JsonNode set : sets) {
            double worst = set.get("predicted_worst_u95_percent").doubleValue();
            double median = set.get("predicted_median_u95_percent").doubleValue();
            assertThat(worst).isGreaterThanOrEqualTo(last).isGreaterThanOrEqualTo(median);
            assertThat(median).isPositive();
            last = worst;
            JsonNode loads = set.get("loads_ohm");
            assertThat(loads.get(loads.size() - 1).textValue()).isEqualTo("open");
            assertThat(loads.get(0).isIntegralNumber()).isTrue();
            JsonNode order = set.get("take_order_ohm");
            assertThat(order.get(order.size() - 1)).isEqualTo(order.get(0));
            assertThat(set.get("dominated_by").textValue()).isEqualTo("noise");
            assertThat(set.get("changes")).hasSize(5);
            assertThat(set.has("seconds_for_wanted")).isFalse();
        }
        assertThat(bench.stderr).isEmpty();
    }

    @Test
    void jsonSaysNullWhereNoLengthReachesWhatIsWanted() throws IOException {
        JsonNode reached = json("plan --impedance 300 --input 3000 --wanted 3 --json");
        assertThat(reached.get("sets").get(0).get("seconds_for_wanted").doubleValue())
                .isPositive();
        JsonNode never = json("plan --impedance 300 --input 3000 --wanted 0.01 --json");
        assertThat(never.get("sets").get(0).get("seconds_for_wanted").isNull()).isTrue();
        assertThat(run("plan --impedance 300 --input 3000 --wanted 0.01")).isZero();
        assertThat(bench.stdout).contains("0.01 % in all bands is out of reach");
    }

    @Test
    void summaryTellsSetsOrderLimitAndWhatAChangeGives() {
        assertThat(run("plan --impedance 300 --input 3000 --stock 100,220,470 --wanted 1.5"))
                .isZero();
        assertThat(bench.stdout)
                .contains("expected    300 Ω at all frequencies")
                .contains("220, open")
                .contains("worst ± 95 %")
                .contains("take in this order: ")
                .contains("limited by  noise")
                .contains("takes a sweep of ")
                .contains("measure the resistors to 0.1 %: ");
        assertThat(bench.stderr).isEmpty();
    }

    @Test
    void setsKeepToTheMinimumLoad() throws IOException {
        JsonNode json = json("plan --impedance 300 --input 3000 --stock 100,220,470 --minimum-load 200 --json");
        assertThat(bench.stderr).isEmpty();
        assertThat(json.get("sets"))
                .hasSize(2)
                .allSatisfy(set -> assertThat(set.get("loads_ohm"))
                        .noneMatch(load -> load.isNumber() && load.doubleValue() < 200));
        assertThat(json.get("notes").get(0).textValue())
                .isEqualTo("not proposed, below the minimum load of 200 Ω: 100 Ω");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "plan | the expected impedance is missing; give one of --impedance OHM",
                "plan --impedance 300 --transducer ribbon --input 3000 | the expected impedance is given 2 times",
                "plan --impedance 300 | --input is missing; give the resistance",
                "plan --impedance 0 --input 3000 | --impedance holds 0; give a plain number from 0.001 Ω",
                "plan --impedance 3k --input 3000 | --impedance holds 3k; give a plain number",
                "plan --impedance 300 --input -5 | --input holds -5",
                "plan --impedance 300 --input 3000 --input-tolerance 100 | from 0 % to below 100 %, for example 1",
                "plan --impedance 300 --input 3000 --drift NaN | --drift holds NaN",
                "plan --impedance 300 --input 3000 --snr 1e9 | --snr holds 1e9",
                "plan --impedance 300 --input 3000 --seconds 0 | above 0 s to 3600 s",
                "plan --impedance 300 --input 3000 --series E13 | choose E12, E24 or E96",
                "plan --impedance 300 --input 3000 --series E24 --stock 100 | both given",
                "plan --impedance 300 --input 3000 --stock 100,,220 | --stock holds nothing",
                "plan --impedance 300 --input 3000 --stock 100,x | --stock holds x",
                "plan --impedance 300 --input 3000 --stock open | --stock holds no resistor",
                "plan --impedance 300 --input 3000 --from 300 --to 200 | give --from the lower frequency",
                "plan --impedance 300 --input 3000 --from 30000 | --to is 20000 Hz",
                "plan --transducer laser --input 3000 | choose moving-coil, ribbon or condenser",
                "plan --curve nowhere.json --input 3000 | nowhere.json is not there",
                "plan --impedance 300 --input 3000 --stok 100 | did you mean --stock?",
                "plan extra --impedance 300 --input 3000 | extra is one argument too many",
            })
    void badInputIsExitTwoWithOneLineThatSaysWhatToDo(String command, String said) {
        assertThat(run(command)).isEqualTo(2);
        assertThat(bench.stderr).startsWith("ohmprint: ").contains(said);
        assertThat(bench.stderr.lines()).hasSize(1);
        assertThat(bench.stdout).isEmpty();
    }

    @Test
    void outputDoesNotDependOnTheLocale() {
        Locale usual = Locale.getDefault();
        try {
            List<String> all = Stream.of("en-GB", "de-DE", "ar-EG-u-nu-arab")
                    .map(tag -> {
                        Locale.setDefault(Locale.forLanguageTag(tag));
                        run("plan --impedance 287.5 --input 3000 --stock 99.5,220 --minimum-load 100.5");
                        return bench.stdout + bench.stderr;
                    })
                    .distinct()
                    .toList();
            assertThat(all).hasSize(1);
        } finally {
            Locale.setDefault(usual);
        }
    }
}
