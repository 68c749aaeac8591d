package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.impedance.Usability;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is known about the consistency of the takes is the same on the terminal, in the report, the library and a check. */
@Tag("slow")
class OneConsistencyTest {
    private static final String REFUTED =
            "the entered values are inconsistent with the takes: check loads, gain and input";
    private static final String OCTAVE =
            "in one octave, residual-to-noise power ratio up to 33 in the octave at 63.0 Hz";

    @TempDir
    Path dir;

    private Path curve;
    private String out = "";
    private String err = "";

    @BeforeEach
    void name() {
        curve = dir.resolve("curve.json");
    }

    /** χ² of 60 on 3 degrees of freedom has p = 6e-13 (tables of χ²: 16.3 is p = 0.001). */
    private static Consistency contradicted(ImpedanceCurve curve) {
        return new Consistency(
                new ChiSquare(60_000, 50_000),
                new ChiSquare(60, 3),
                none(curve),
                List.of(
                        new Consistency.Octave(63, new ChiSquare(33 * 400, 400)),
                        new Consistency.Octave(1000, new ChiSquare(8000, 8000))),
                true);
    }

    private static List<@Nullable ChiSquare> none(ImpedanceCurve curve) {
        List<@Nullable ChiSquare> out = new ArrayList<>();
        curve.values().forEach(v -> out.add(null));
        return out;
    }

    private static Measurement with(@Nullable Consistency consistency, Usability usability) {
        Measurement m = SampleMeasurements.withSharedCauses();
        ImpedanceCurve c = m.curve();
        return new Measurement(
                m.microphone(),
                new ImpedanceCurve(c.bands(), c.values(), c.parallelWithInput(), c.covariance(), c.side(), consistency),
                m.route(),
                m.routeReason(),
                usability,
                m.findings(),
                m.provenance());
    }

    private static Measurement contradicting() {
        return with(contradicted(SampleMeasurements.withSharedCauses().curve()), Usability.DOUBTFUL);
    }

    private int run(Object... args) {
        StringWriter stdout = new StringWriter();
        StringWriter stderr = new StringWriter();
        String[] words = java.util.Arrays.stream(args).map(String::valueOf).toArray(String[]::new);
        int code = Main.run(words, new PrintWriter(stdout), new PrintWriter(stderr));
        out = stdout.toString();
        err = stderr.toString();
        return code;
    }

    private String report(Measurement m) throws Exception {
        Files.writeString(curve, CurveJson.write(m));
        Path sheet = dir.resolve("sheet.html");
        assertThat(run("report", curve, "--out", sheet)).as(err).isZero();
        return Files.readString(sheet);
    }

    @Test
    void theFileKeepsItAndFilesOfOldAreReadable() throws Exception {
        Measurement m = contradicting();
        String text = CurveJson.write(m);
        assertThat(CurveJson.read(text, "curve.json").curve().consistency())
                .isEqualTo(m.curve().consistency());
        String old = text.replaceFirst("(?s),\\s*\"octaves\" *: *\\{.*?\\},\\s*\"fit_set_aside\" *: *true", "");
        assertThat(old).doesNotContain("octaves", "fit_set_aside");
        Consistency read = CurveJson.read(old, "curve.json").curve().consistency();
        assertThat(read).isNotNull();
        assertThat(read.octaves()).isEmpty();
        assertThat(read.setAside()).isFalse();
    }

    @Test
    void theTerminalSaysIt() {
        Bench bench = Bench.written(contradicting());
        bench.run("measure", "x");
        assertThat(bench.stdout).contains(REFUTED, OCTAVE);
    }

    @Test
    void aProgramIsToldTheSentences() throws Exception {
        Bench bench = Bench.written(contradicting());
        bench.run("measure", "x", "--json");
        assertThat(new ObjectMapper().readTree(bench.stdout).get("consistency").toString())
                .startsWith("[\"")
                .contains(REFUTED, OCTAVE);
    }

    @Test
    void theReportSaysItAndNeverThatTheTakesAgree() throws Exception {
        for (Usability usability : Usability.values()) {
            String text = report(with(contradicting().curve().consistency(), usability));
            assertThat(text).contains(REFUTED.substring(1), OCTAVE).doesNotContain("takes agree");
        }
    }

    @Test
    void theReportOfTwoTakesDoesNotSayThatTheyAgree() throws Exception {
        assertThat(report(with(null, Usability.USABLE)))
                .doesNotContain("takes agree")
                .contains("was not checked");
    }

    @Test
    void theReportOfTakesThatAgreeSaysSo() throws Exception {
        ImpedanceCurve c = contradicting().curve();
        Consistency good = new Consistency(new ChiSquare(50_000, 50_000), new ChiSquare(2, 3), none(c));
        assertThat(report(with(good, Usability.USABLE))).contains("The takes agree");
    }

    @Test
    void libraryAndCheckSayIt() throws Exception {
        Files.writeString(curve, CurveJson.write(contradicting()));
        run("check", curve, "--spec", "fixtures/check/ribbon-300.yaml");
        assertThat(err).contains(REFUTED, OCTAVE);
        Path library = dir.resolve("library.db");
        assertThat(run("library", "create", "--library", library)).as(err).isZero();
        assertThat(run("library", "add", curve, "--operator", "Ada Quill", "--library", library))
                .as(err)
                .isZero();
        assertThat(run("library", "show", out.strip(), "--library", library))
                .as(err)
                .isZero();
        assertThat(out).contains(REFUTED, OCTAVE);
    }
}
