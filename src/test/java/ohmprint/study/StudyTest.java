package ohmprint.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import ohmprint.NeedsPackage;
import ohmprint.study.Cell.Layout;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A small cut of the study, and its script. */
@Tag("statistics")
class StudyTest {
    /** Sessions are few here, so the limits are wider than those of the whole study. */
    private static final int SESSIONS = 400;

    private static final double COVERAGE_AWAY = 0.03;

    @TempDir
    Path dir;

    @Test
    void fourLoadsOnADriftingBench() {
        Cell cell = new Cell(
                StudyCircuit.RIBBON_LEAKY,
                LoadSet.FOUR,
                Tolerance.MEASURED,
                StudyPlan.UNSTEADY,
                50,
                StudyRoute.STIMULUS,
                Layout.SPREAD,
                SESSIONS);
        Map<Fit, CellResult> results = new CellStudy(cell).run(List.of(Fit.values()), () -> {});
        CellResult joint = results.get(Fit.JOINT);
        CellResult separate = results.get(Fit.SEPARATE);
        assertThat(joint.magnitudeCoverage()).isCloseTo(0.95, within(COVERAGE_AWAY));
        assertThat(joint.phaseCoverage()).isCloseTo(0.95, within(COVERAGE_AWAY));
        assertThat(joint.efficiency()).isBetween(0.9, 1.1);
        assertThat(joint.errorPercent()).isLessThan(0.85 * separate.errorPercent());
        assertThat(joint.rejected()).isZero();
    }

    @Test
    void aCellIsTheSameInAnyCompany() {
        Cell cell = StudyPlan.quick().cells().get(0);
        Spectrum spectrum = new Spectrum(cell);
        double first = DrawnSession.of(cell, spectrum, 3).re(5, 0, 1);
        assertThat(DrawnSession.of(cell, spectrum, 4).re(5, 0, 1)).isNotEqualTo(first);
        assertThat(DrawnSession.of(cell, new Spectrum(cell), 3).re(5, 0, 1)).isEqualTo(first);
    }

    @Tag("process")
    @Test
    @NeedsPackage({"python3-numpy", "python3-scipy"})
    void theScriptWritesThePageWithItsPlots() throws Exception {
        ProcessBuilder script = new ProcessBuilder(
                        Path.of("scripts/validate").toAbsolutePath().toString(), "--quick", "--out", "page")
                .directory(dir.toFile())
                .redirectErrorStream(true);
        script.environment()
                .put(
                        "OHMPRINT_TEST_CLASSPATH",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")));
        Process process = script.start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor()).as(said).isZero();
        Path page = dir.resolve("page");
        assertThat(Files.readString(page.resolve("index.md")))
                .contains("# Validation", "| 4 | measured, 0.0500 dB, 50 dB, stimulus |", "two loads, sweep");
        for (String plot : List.of("coverage.svg", "efficiency.svg", "joint.svg", "planner.svg", "whole.svg")) {
            assertThat(page.resolve(plot)).content().startsWith("<svg").contains("</svg>");
        }
        assertThat(Files.readAllLines(page.resolve("cells.csv"))).hasSizeGreaterThan(5);
    }

    @Tag("process")
    @Test
    void anOptionThatIsNotKnownIsRefused() throws Exception {
        ProcessBuilder script = new ProcessBuilder("scripts/validate", "--fast").redirectErrorStream(true);
        script.environment()
                .put(
                        "OHMPRINT_TEST_CLASSPATH",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")));
        Process process = script.start();
        assertThat(new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8))
                .contains("--fast", "--quick");
        assertThat(process.waitFor()).isEqualTo(2);
    }
}
