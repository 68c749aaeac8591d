package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command {@code circuit} as a user or a script meets it. */
@Tag("slow")
class CircuitCommandTest {
    private static final SourceModel COIL =
            new MovingCoil(200, LossyInductor.ofHenries(1e-3), Resonance.ofPeak(100, 150, 1));

    @TempDir
    Path folder = Path.of(".");

    private String stdout = "";
    private String stderr = "";

    private int run(String... args) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Environment around = new Environment(folder, false, 80, false, "0.0.7");
        int code = new Shell(
                        List.of(new CircuitCommand()), new Console(around, new PrintWriter(out), new PrintWriter(err)))
                .run(args);
        stdout = out.toString();
        stderr = err.toString();
        return code;
    }

    private String curve(Measurement measurement) throws IOException {
        return Files.writeString(folder.resolve("curve.json"), CurveJson.write(measurement))
                .toString();
    }

    private String coil(String label) throws IOException {
        return curve(ModelCurves.measurement(
                label, "moving-coil", ModelCurves.noisy(COIL, FrequencyBands.within(12, 20, 20_000), 1e-3, 1)));
    }

    @Test
    void jsonHoldsTheValuesWithTheirIntervals() throws IOException {
        assertThat(run("circuit", coil("Bench coil 4"), "--json")).as(stderr).isZero();
        assertThat(stdout.lines()).hasSize(1);
        JsonNode json = new ObjectMapper().readTree(stdout);
        assertThat(json.get("family").textValue()).isEqualTo("moving-coil");
        assertThat(json.get("circuit").textValue()).isEqualTo("resistance + inductor + resonance");
        assertThat(json.get("dc_resistance_ohm").get("value").doubleValue()).isEqualTo(200, within(0.2));
        assertThat(json.get("top_inductance_henry").get("determined").booleanValue())
                .isTrue();
        JsonNode hz = StreamSupport.stream(json.get("values").spliterator(), false)
                .filter(v -> v.get("name").textValue().equals("resonance_hz"))
                .findFirst()
                .orElseThrow();
        assertThat(hz.get("low").doubleValue()).isLessThan(150);
        assertThat(hz.get("high").doubleValue()).isGreaterThan(150);
        assertThat(json.get("misfit").get("rms_percent").doubleValue()).isLessThan(0.2);
        assertThat(json.get("file").isNull()).isTrue();
    }

    @Test
    void summaryAndSubcircuitCarryTheParameters() throws IOException {
        Path out = folder.resolve("coil.cir");
        assertThat(run("circuit", coil("Bench\ncoil Ω4"), "--out", out.toString()))
                .isZero();
        assertThat(stdout)
                .contains("moving-coil: resistance + inductor + resonance")
                .containsPattern("resonance frequency +150\\.\\d Hz")
                .containsPattern("inductance +(1\\.00\\d m|99\\d\\.\\d µ)H")
                .contains("written     " + out);
        List<String> lines = Files.readAllLines(out);
        assertThat(lines.get(1)).startsWith("* written by ohmprint ");
        assertThat(lines).anyMatch(l -> l.matches("\\* coil_ohm = (200|199\\.).*95 % from .* to .*"));
        assertThat(lines).anyMatch(l -> l.startsWith(".subckt bench_coil_4 a b"));
        assertThat(lines).last().isEqualTo(".ends bench_coil_4");
        assertThat(lines).allSatisfy(l -> assertThat(l).matches("[ -~]*"));
        // Its own file may be written again, nobody else's.
        assertThat(run("circuit", folder.toString(), "--out", out.toString())).isZero();
        Files.writeString(out, "* my own netlist\n");
        assertThat(run("circuit", folder.toString(), "--out", out.toString())).isEqualTo(2);
        assertThat(stderr).contains("was not written by this program");
        assertThat(out).hasContent("* my own netlist\n");
        assertThat(names()).containsExactly("coil.cir", "curve.json");
    }

    /** A real part that rises by 3 % in one place has another imaginary part than that of the coil. */
    @Test
    void aCurveWithAStepIsNoImpedance() throws IOException {
        assertThat(run("circuit", coil("Bench coil 4"), "--json")).as(stderr).isZero();
        assertThat(new ObjectMapper()
                        .readTree(stdout)
                        .at("/kramers_kronig/passed")
                        .booleanValue())
                .isTrue();
        SourceModel stepped = hz -> COIL.impedance(hz).multiply(hz < 1000 ? 1 : 1.03);
        run(
                "circuit",
                curve(ModelCurves.measurement(
                        "Bench coil 4",
                        "moving-coil",
                        ModelCurves.noisy(stepped, FrequencyBands.within(12, 20, 20_000), 1e-3, 1))),
                "--json");
        JsonNode test = new ObjectMapper().readTree(stdout).get("kramers_kronig");
        assertThat(test.get("passed").booleanValue()).isFalse();
        assertThat(test.get("p").doubleValue()).isLessThan(1e-3);
        assertThat(test.get("from_hz").doubleValue()).isLessThan(1100);
        assertThat(test.get("to_hz").doubleValue()).isGreaterThan(900);
        assertThat(stderr).contains("No linear circuit has this curve").contains("Measure again");
    }

    @Test
    void aCurveThatNoCircuitFollowsGetsNoFileAndExitCodeThree() throws IOException {
        SourceModel waves = hz -> new Complex(200 + 120 * Math.sin(9 * Math.log(hz)), 90 * Math.cos(23 * Math.log(hz)));
        Path out = folder.resolve("none.cir");
        String reference = curve(ModelCurves.measurement(
                "Bench puzzle 1", "ribbon", ModelCurves.noisy(waves, FrequencyBands.within(12, 20, 20_000), 1e-3, 1)));
        assertThat(run("circuit", reference, "--out", out.toString())).isEqualTo(3);
        assertThat(stderr).contains("None of the circuits follows this curve");
        assertThat(stdout).doesNotContain("resistance  ");
        assertThat(out).doesNotExist();
    }

    @Test
    void badInputIsExitTwoWithOneLineThatSaysWhatToDo() throws IOException {
        String reference = curve(SampleMeasurements.intervalsOnly());
        refused("holds no value, at most bounds", "circuit", reference);
        refused("CURVE is missing", "circuit");
        refused("is not there", "circuit", folder.resolve("nowhere").toString());
        refused("choose moving-coil, ribbon or capacitor-coupled", "circuit", reference, "--family", "laser");
        refused(
                "no folder to lie in",
                "circuit",
                reference,
                "--out",
                folder.resolve("no/x.cir").toString());
        refused("is a folder", "circuit", reference, "--out", folder.toString());
    }

    private void refused(String said, String... args) {
        assertThat(run(args)).isEqualTo(2);
        assertThat(stderr).startsWith("ohmprint: ").contains(said);
        assertThat(stderr.lines()).hasSize(1);
        assertThat(stdout).isEmpty();
    }

    private List<String> names() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(p -> p.getFileName().toString()).sorted().toList();
        }
    }
}
