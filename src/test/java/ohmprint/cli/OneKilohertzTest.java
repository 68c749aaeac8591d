package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.text.Rounded;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is said of 1 kHz is the same whoever is asked: twelfths of an octave have no band there. */
@Tag("slow")
class OneKilohertzTest {
    private static final Measurement COIL = SampleMeasurements.movingCoil();
    /** Digits that curve.json keeps. */
    private static final double STORED = 1e-9;

    @TempDir
    Path here;

    private Path curve;
    private BandValue truth;

    @BeforeEach
    void write() throws Exception {
        curve = Files.writeString(here.resolve("curve.json"), CurveJson.write(COIL));
        truth = CurveJson.read(Files.readString(curve), "curve.json").curve().at(1000);
    }

    private String said(String... arguments) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code = Main.run(arguments, new PrintWriter(out), new PrintWriter(err));
        assertThat(code).as(err.toString()).isZero();
        return out.toString();
    }

    private JsonNode json(String... arguments) throws Exception {
        return new ObjectMapper().readTree(said(arguments));
    }

    /** 200 Ω, 1 mH and 100 Ω ∥ 0.1061 H ∥ 10.61 µF at 1000 Hz by the closed form; no band of the file is there. */
    @Test
    void theCurveItselfIsTheCircuitAtOneKilohertz() {
        double w = 2000 * Math.PI;
        Complex resonance = new Complex(0.01, w * 10.6103295e-6 - 1 / (w * 0.106103295)).reciprocal();
        double ohm = resonance.add(new Complex(200, w * 1e-3)).abs();
        assertThat(COIL.curve().values()).noneMatch(v -> Math.abs(v.frequencyHz() / 1000 - 1) < 0.02);
        assertThat(truth.magnitudeOhm()).isCloseTo(ohm, within(1e-4 * ohm));
    }

    @Test
    void theLibraryListsIt() throws Exception {
        String file = here.resolve("shop.db").toString();
        said("library", "create", "--library", file);
        said("library", "add", curve.toString(), "--library", file, "--operator", "Ada Quill");
        JsonNode entry = json("library", "list", "--library", file, "--json").get(0);
        assertThat(entry.path("ohm_at_1khz").asDouble()).isCloseTo(truth.magnitudeOhm(), within(STORED));
        assertThat(said("library", "list", "--library", file)).contains(" " + Math.round(truth.magnitudeOhm()) + " Ω ");
    }

    @Test
    void theCheckDecidesOnIt() throws Exception {
        Path spec = Files.writeString(
                here.resolve("spec.yaml"),
                "version: 1\nname: coils\nrated_impedance: {ohm: 205, tolerance_percent: 20, at_hz: 1000}\n");
        JsonNode check = json("check", curve.toString(), "--spec", spec.toString(), "--json")
                .path("requirements")
                .get(0)
                .path("checks")
                .get(0);
        assertThat(check.path("magnitude_ohm").asDouble()).isCloseTo(truth.magnitudeOhm(), within(STORED));
        assertThat(check.path("magnitude_u95_ohm").asDouble()).isCloseTo(truth.magnitudeU95Ohm(), within(STORED));
    }

    /** The loss of the divider, {@code 20·lg|1 + Z/R|}. */
    @Test
    void theMatchCountsWithIt() throws Exception {
        double loss = json("match", curve.toString(), "--load", "1500", "--json")
                .path("loads")
                .get(0)
                .path("loss_1khz_db")
                .asDouble();
        Complex z = new Complex(truth.resistanceOhm(), truth.reactanceOhm());
        assertThat(loss).isCloseTo(20 * Math.log10(z.divide(1500).add(1).abs()), within(STORED));
    }

    @Test
    void theSheetSaysIt() throws Exception {
        Path sheet = here.resolve("sheet.html");
        said("report", curve.toString(), "--out", sheet.toString());
        Rounded value = Rounded.of(truth.magnitudeOhm(), truth.magnitudeU95Ohm());
        String text = Files.readString(sheet).replaceAll("<[^>]+>", " ").replaceAll("\\s+", " ");
        assertThat(text.substring(text.indexOf("|Z| at "), text.indexOf("Phase there")))
                .contains("|Z| at 1 kHz " + value.value() + " ± " + value.uncertainty() + " Ω");
    }
}
