package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.exchange.CurveJson;
import ohmprint.files.Sha256;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.impedance.Usability;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Takes that went wrong in the recording: what is said about them, and that no curve is made of what cannot carry one. */
@Tag("statistics")
class SpoiltTakesTest {
    /** Flat tops at half of the take's own peak, as a stage before the converter leaves them. */
    private static final Consumer<double[]> FLAT_TOPS = x -> {
        double limit = 0.5 * DoubleStream.of(x).map(Math::abs).max().orElseThrow();
        for (int i = 0; i < x.length; i++) {
            x[i] = Math.max(-limit, Math.min(limit, x[i]));
        }
    };

    private static final double HALF_A_SAMPLE = 0.5;
    /** What the estimate of a fraction may be off, samples: the phase of an unknown source hides a part of it. */
    private static final double FRACTION_SAMPLES = 0.2;

    @TempDir
    Path dir;

    @ParameterizedTest
    @CsvSource({
        "ribbon-reference, take-1.wav",
        "ribbon-reference, take-3.wav",
        "coil-two-loads, take-2.wav",
        "coil-common-noise, take-2.wav",
        "different-noise-reference, take-3.wav",
        "coil-different-noise-four, take-4.wav"
    })
    void flatTopsAtHalfScaleNameTheTakeAndNothingIsWritten(String fixture, String take) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir).edit(take, FLAT_TOPS);
        Map<String, String> before = contents(dir);
        MeasureOutcome outcome = session.measure();
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.UNUSABLE);
        assertThat(TakeFolder.findings(outcome, FindingCode.CLIPPED))
                .extracting(Finding::take)
                .containsExactly(take);
        assertThat(outcome.folder()).isNull();
        assertThat(outcome.files()).isEmpty();
        assertThat(contents(dir)).isEqualTo(before);
    }

    @Test
    void anEarlierResultOutlivesASpoiltTake() throws Exception {
        TakeFolder session = TakeFolder.copyOf("ribbon-shorted-turns", dir);
        session.measure();
        Map<String, String> before = contents(session.result());
        assertThat(before).containsKeys("curve.csv", "curve.json");
        session.edit("take-1.wav", FLAT_TOPS);
        assertThat(session.measure().folder()).isNull();
        assertThat(contents(session.result())).isEqualTo(before);
    }

    @Test
    void forceWritesAndTheFileSaysUnusable() throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-two-loads", dir).edit("take-2.wav", FLAT_TOPS);
        MeasureOutcome outcome = session.forced();
        assertThat(outcome.folder()).isEqualTo(session.result());
        assertThat(contents(session.result()).keySet()).containsExactlyInAnyOrderElementsOf(outcome.files());
        Measurement written = CurveJson.read(Files.readString(session.result().resolve("curve.json")), "curve.json");
        assertThat(written.usability()).isEqualTo(Usability.UNUSABLE);
        assertThat(written.findings().get(0).code()).isEqualTo(FindingCode.CLIPPED);
        assertThat(written.findings().get(0).take()).isEqualTo("take-2.wav");
    }

    @ParameterizedTest
    @CsvSource({
        "coil-two-loads, take-2.wav, 1.7",
        "coil-different-noise-four, take-3.wav, 4",
        "ribbon-reference, take-1.wav, 1.5"
    })
    void twentyMillisecondsOfZeroesAreADropout(String fixture, String take, double seconds) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir);
        int rate = session.rate(take);
        int from = (int) (seconds * rate);
        session.edit(take, x -> Arrays.fill(x, from, from + rate / 50, 0));
        MeasureOutcome outcome = session.measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.DROPOUT))
                .extracting(Finding::take)
                .containsExactly(take);
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.UNUSABLE);
        assertThat(outcome.folder()).isNull();
    }

    @ParameterizedTest
    @CsvSource({"ribbon-repaired", "coil-common-noise"})
    void aFractionOfASampleBetweenTakesIsTold(String fixture) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir).edit("take-1.wav", SpoiltTakesTest::laterByHalfASample);
        MeasureOutcome outcome = session.measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.TIMING))
                .extracting(Finding::take)
                .containsExactly("take-1.wav");
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        double delay = take(outcome, "take-1.wav").delaySamples();
        assertThat(Math.abs(delay - Math.floor(delay) - HALF_A_SAMPLE)).isLessThan(FRACTION_SAMPLES);
        Truth.Score score = Truth.of(fixture).score(outcome.measurement().curve(), 30, 18_000);
        assertThat(score.coveragePercent()).as("magnitudes covered, %%").isGreaterThanOrEqualTo(90);
        assertThat(score.phaseCoveragePercent()).as("phases covered, %%").isGreaterThanOrEqualTo(90);
    }

    @Test
    void takesAsRecordedShareOneClock() throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("ribbon-repaired", dir).measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.TIMING)).isEmpty();
        assertThat(outcome.measurement().provenance().takes())
                .allMatch(t -> t.delaySamples() == Math.rint(t.delaySamples()), "whole samples");
    }

    @ParameterizedTest
    @CsvSource({"coil-two-loads", "coil-different-noise-four", "ribbon-reference"})
    void aSilentTakeIsNamedAndMakesNoCurve(String fixture) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir).edit("take-2.wav", x -> Arrays.fill(x, 0));
        MeasureOutcome outcome = session.measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.LOW_SNR))
                .filteredOn(f -> f.message().contains("silent;"))
                .extracting(Finding::take)
                .containsExactly("take-2.wav");
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.UNUSABLE);
        assertThat(outcome.folder()).isNull();
    }

    @Test
    void aSilentTakeAmongThreeOfOneSoundIsLeftOut() throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-common-noise", dir).edit("take-2.wav", x -> Arrays.fill(x, 0));
        MeasureOutcome outcome = session.measure();
        assertThat(take(outcome, "take-2.wav").leftOut()).isTrue();
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        Truth.Score score =
                Truth.of("coil-common-noise").score(outcome.measurement().curve(), 30, 18_000);
        assertThat(score.magnitudePercent(95)).isLessThan(1);
        assertThat(score.coveragePercent()).isGreaterThanOrEqualTo(90);
    }

    @ParameterizedTest
    @CsvSource({"0", "10", "1000"})
    void takesTooShortForPowersAreBadInput(int frames) throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-different-noise-four", dir);
        for (int k = 1; k <= 4; k++) {
            session.cut("take-" + k + ".wav", 50_000, 50_000 + frames);
        }
        Map<String, String> before = contents(dir);
        assertThatThrownBy(session::measure)
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("take");
        assertThat(contents(dir)).isEqualTo(before);
    }

    @Test
    void aSweepOfWhichOnlyABeginningWasRecordedMakesNoCurve() throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-two-loads", dir);
        session.cut("take-1.wav", 30_000, 70_000).cut("take-2.wav", 30_000, 70_000);
        MeasureOutcome outcome = session.measure();
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.UNUSABLE);
        assertThat(outcome.folder()).isNull();
    }

    private static void laterByHalfASample(double[] x) {
        double seconds = HALF_A_SAMPLE / SimulatedSession.RATE;
        double[] later = SimulatedSession.filtered(x, hz -> new Complex(0, -2 * Math.PI * hz * seconds).exp());
        System.arraycopy(later, 0, x, 0, x.length);
    }

    private static TakeOrigin take(MeasureOutcome outcome, String file) {
        return outcome.measurement().provenance().takes().stream()
                .filter(t -> t.file().file().equals(file))
                .findFirst()
                .orElseThrow();
    }

    /** SHA-256 of every file below a folder. */
    private static Map<String, String> contents(Path folder) throws Exception {
        Map<String, String> out = new TreeMap<>();
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                out.put(folder.relativize(file).toString(), Sha256.of(Files.readAllBytes(file)));
            }
        }
        return out;
    }
}
